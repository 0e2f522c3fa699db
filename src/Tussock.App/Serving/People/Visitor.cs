using System.Collections.Immutable;
using Microsoft.AspNetCore.Http;
using Tussock.Desk;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>Whoever asks, once it is known who it is.</summary>
/// <param name="Id">Id of the account; null for whoever sits at the desk's own machine.</param>
/// <param name="Name">Name that stands beside what is written.</param>
/// <param name="Role">What this person may do.</param>
/// <param name="Properties">A landowner's own properties.</param>
internal sealed record Visitor(Guid? Id, string Name, PersonRole Role, ImmutableArray<string> Properties)
{
    private const string PhoneApp = "/field/";

    /// <summary>Whoever sits at the machine that holds the data file: nothing that a sign-in could keep from such a person.</summary>
    internal static Visitor AtThisMachine(string name) => new(null, name, PersonRole.Lead, []);

    /// <summary>The visitor of a request that the gate let in.</summary>
    internal static Visitor Of(HttpContext context) => context.Features.Get<Visitor>() ?? throw new InvalidOperationException("The request did not come through the gate");

    /// <summary>What pages have to know.</summary>
    internal DeskVisitor OnPages() => new(Name, Id is not null, Role is PersonRole.Lead or PersonRole.Crew, MayOpen);

    private bool MayOpen(string path) => path == PhoneApp ? Role is PersonRole.Lead or PersonRole.Crew : WhoMay.Of(HttpMethods.Get, path).HasFlag(WhoMay.As(this)) && (Id is not null || path != PeopleSite.PasswordPath);
}
