using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Models;
using Xunit;

namespace Tussock.Tests.Models;

/// <summary>Fixed effects against exact Newton fits, general libraries and published values.</summary>
public class EffectsFitChecks
{
    [Theory]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    [InlineData("strong600")]
    [InlineData("sparse10k")]
    public void Reference_seasons_agree_under_both_links(string set)
    {
        foreach (var (link, block) in Links)
        {
            var expected = ReferenceSeason.Block(set, "expected.json", block).GetProperty("direct");
            var columns = expected.GetProperty("coef").EnumerateObject().Select(c => c.Name).ToImmutableArray();
            var fit = EffectsFit.Of(NestTables.Season(set), link, new EffectsOptions { Columns = columns }).Value;
            Agree(fit, expected);
            Assert.Empty(fit.Warnings.Where(w => w.Key != "models.few_groups"));
        }
    }

    private static readonly (Link Link, string Block)[] Links = [(Link.LogHazard, "cloglog_regression"), (Link.DailyLogit, "daily_logit_regression")];

    private static void Agree(EffectsFit fit, JsonElement expected, double sign = 1)
    {
        Near.Is(expected.GetProperty("loglik").GetDouble(), fit.LogLikelihood, 1e-11);
        foreach (var effect in fit.Coefficients)
        {
            Near.Is(sign * expected.GetProperty("coef").GetProperty(effect.Name).GetDouble(), effect.Independent.Value, 1e-8);
            Near.Is(expected.GetProperty("se").GetProperty(effect.Name).GetDouble(), effect.Independent.Se, 1e-8);
        }
    }
}
