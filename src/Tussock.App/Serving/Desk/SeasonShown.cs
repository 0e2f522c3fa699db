using System.Collections.Immutable;
using Microsoft.AspNetCore.Http;
using Tussock.Desk;
using Tussock.Store;

namespace Tussock.App.Serving.Desk;

/// <summary>Which season the pages of one request are of.</summary>
/// <param name="Season">The season.</param>
/// <param name="Prefix">What every address on its pages begins with; empty where there is no choice.</param>
/// <param name="Choices">The seasons that this visitor may choose from.</param>
internal sealed record SeasonShown(SeasonEntry Season, string Prefix, ImmutableArray<SeasonLink> Choices)
{
    /// <summary>The season of a request that went through the gate.</summary>
    internal static SeasonShown Of(HttpContext context) => context.Features.Get<SeasonShown>() ?? throw new InvalidOperationException("The request did not come through the gate");
}
