using System.Globalization;
using System.Text.Json;
using FsCheck.Xunit;
using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

public class MantelHaenszelTests
{
    [Fact]
    public void A_class_compared_with_itself_gives_1()
    {
        var nests = ReferenceSeason.Whole("typical144");
        var found = MantelHaenszel.Compare(nests, 1, 1);
        Assert.Equal(1, found.SurvivalRatio.Value!.Value, 1e-14);
        Assert.Equal(1, found.OddsRatio.Value!.Value, 1e-14);
    }

    [Fact]
    public void Strata_with_one_class_are_left_out()
    {
        var found = MantelHaenszel.Over([new(3, 1, 2, 2), new(0, 0, 5, 1), new(4, 2, 0, 0)]);
        Assert.Equal(1, found.Strata);
        Assert.Equal(1.5, found.SurvivalRatio.Value!.Value, 1e-14);
        Assert.Equal(3, found.OddsRatio.Value!.Value, 1e-14);
    }

    [Theory]
    [InlineData(0, 0, 3, 1, "cover_comparison.no_strata", "cover_comparison.no_strata")]
    [InlineData(0, 4, 3, 1, "cover_comparison.sum_zero", "cover_comparison.sum_zero")]
    [InlineData(4, 0, 3, 1, null, "cover_comparison.sum_zero")]
    [InlineData(4, 0, 3, 0, "cover_comparison.variance_zero", "cover_comparison.sum_zero")]
    public void What_cannot_be_had_has_a_reason(int a, int b, int c, int d, string? ratio, string? odds)
    {
        var found = MantelHaenszel.Over([new(a, b, c, d)]);
        Assert.Equal((ratio, odds), (found.SurvivalRatio.Why?.Key, found.OddsRatio.Why?.Key));
        if (ratio is not null) Assert.NotEmpty(Words.Catalogue.English.Say(ratio));
        if (odds is not null) Assert.Null(found.OddsRatio.Value);
    }
}

public class MantelHaenszelLaws
{
    private static Stratum[] Strata((byte, byte, byte, byte)[] seeds) => [.. seeds.Select(s => new Stratum(s.Item1 % 9, s.Item2 % 9, s.Item3 % 9, s.Item4 % 9))];

    [Property]
    public void Exchanging_the_classes_turns_the_ratios_over((byte, byte, byte, byte)[] seeds)
    {
        var strata = Strata(seeds);
        var (one, other) = (MantelHaenszel.Over(strata), MantelHaenszel.Over([.. strata.Select(s => new Stratum(s.ReferenceIntact, s.ReferenceLost, s.OtherIntact, s.OtherLost))]));
        TurnedOver(one.SurvivalRatio, other.SurvivalRatio);
        TurnedOver(one.OddsRatio, other.OddsRatio);
    }

    [Property]
    public void Order_of_strata_changes_nothing((byte, byte, byte, byte)[] seeds)
    {
        var strata = Strata(seeds);
        var (one, other) = (MantelHaenszel.Over(strata), MantelHaenszel.Over([.. strata.Reverse()]));
        Assert.Equal(one.SurvivalRatio.Value ?? -1, other.SurvivalRatio.Value ?? -1, 1e-9 * (one.SurvivalRatio.Value ?? 1));
        Assert.Equal(one.OddsRatio.High ?? -1, other.OddsRatio.High ?? -1, 1e-9 * (one.OddsRatio.High ?? 1));
    }

    private static void TurnedOver(Estimate one, Estimate other)
    {
        Assert.Equal(one.Why?.Key, other.Why?.Key);
        if (one.Value is not { } value) return;
        Assert.Equal(1, value * other.Value!.Value, 1e-12);
        Assert.Equal(one.Low is null, other.High is null);
        if (one.Low is null) return;
        Assert.Equal(1, one.Low.Value * other.High!.Value, 1e-9);
    }
}

public class MantelHaenszelChecks
{
    [Theory]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    [InlineData("separation120")]
    [InlineData("strong600")]
    [InlineData("sparse10k")]
    public void Reference_seasons_are_met(string set)
    {
        var nests = ReferenceSeason.Whole(set);
        var found = MantelHaenszel.Compare(nests, 0, 1);
        var block = ReferenceSeason.Block(set, "expected.json", "mantel_haenszel");
        Assert.Equal(block.GetProperty("strata").GetInt32(), found.Strata);
        Same(block.GetProperty("hand"), "RR", found.SurvivalRatio);
        Same(block.GetProperty("hand"), "OR", found.OddsRatio);
    }

    [Fact]
    public void The_admissions_table_is_met()
    {
        var cells = Checks.Read("published-values", "data/ucbadmissions.csv").Replace("\"", "", StringComparison.Ordinal).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)
            .Select(line => line.Split(',')).ToDictionary(c => (c[0], c[1], c[2]), c => int.Parse(c[3], CultureInfo.InvariantCulture));
        var found = MantelHaenszel.Over([.. "ABCDEF".Select(d => d.ToString()).Select(d =>
            new Stratum(cells[("Admitted", "Male", d)], cells[("Rejected", "Male", d)], cells[("Admitted", "Female", d)], cells[("Rejected", "Female", d)]))]);
        static double Of(string quantity) => PublishedValues.Of("mh.ucb", quantity);
        Assert.Equal(Of("common OR"), found.OddsRatio.Value!.Value, 1e-12);
        Assert.Equal(Of("OR CI (Robins-Breslow-Greenland).lower"), found.OddsRatio.Low!.Value, 1e-10);
        Assert.Equal(Of("OR CI (Robins-Breslow-Greenland).upper"), found.OddsRatio.High!.Value, 1e-10);
        Assert.Equal(Of("MH RR estimate (log for RR/OR)"), Math.Log(found.SurvivalRatio.Value!.Value), 1e-12);
        Assert.Equal(Of("MH RR se"), found.SurvivalRatio.Se!.Value / found.SurvivalRatio.Value.Value, 1e-12);
        Assert.Equal(Of("MH OR se"), found.OddsRatio.Se!.Value / found.OddsRatio.Value.Value, 1e-12);
    }

    private static void Same(JsonElement expected, string name, Estimate found)
    {
        if (!expected.TryGetProperty(name, out var value) || value.ValueKind == JsonValueKind.Null)
        {
            Assert.Null(found.Value);
            Assert.NotNull(found.Why);
            return;
        }

        var limits = expected.GetProperty(name + "_ci").EnumerateArray().Select(l => l.GetDouble()).ToArray();
        Assert.Equal(value.GetDouble(), found.Value!.Value, 1e-8 * value.GetDouble());
        Assert.Equal(limits[0], found.Low!.Value, 1e-8 * limits[0]);
        Assert.Equal(limits[1], found.High!.Value, 1e-8 * limits[1]);
        Assert.Equal(expected.GetProperty("se_log_" + name).GetDouble(), found.Se!.Value / found.Value.Value, 1e-8);
    }
}
