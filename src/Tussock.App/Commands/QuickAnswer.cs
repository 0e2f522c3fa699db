using System.Collections.Immutable;
using System.Globalization;
using Tussock.Measures;
using Tussock.Records;
using Tussock.Results;
using Tussock.Survival;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>The tailgate answer in sentences; the command line and the desk say the same.</summary>
internal static class QuickAnswer
{
    private const int MostNests = 1000;
    private const int MostLines = 200;

    /// <summary>What stands between numbers; a box on a page has several lines.</summary>
    private static readonly char[] Between = [' ', ',', ';', '\t', '\r', '\n'];

    /// <summary>The answer as sentences, or what is wrong with what was typed.</summary>
    internal static (IReadOnlyList<string> Said, Phrase? Wrong) Of(string typed, string? clumps, string? area, Catalogue words)
    {
        if (Lines(typed) is not { } lines) return ([], Phrase.Of("quick.lines_wrong", ("found", typed)));
        ImmutableArray<int> counts = [];
        var areaM2 = 0.0;
        if (clumps is not null)
        {
            if (Counts(clumps) is not { } read) return ([], Phrase.Of("quick.clumps_wrong", ("found", clumps)));
            if (area is null) return ([], Phrase.Of("quick.area_missing"));
            if (AreaM2(area) is not { } m2) return ([], Phrase.Of("quick.area_wrong", ("found", area)));
            (counts, areaM2) = (read, m2);
        }

        var settings = new SeasonSettings { Name = QuickSeason.Name, Title = QuickSeason.Name };
        var results = SeasonResults.Of(QuickSeason.Of(lines, counts, areaM2, settings));
        return (Said(results, lines, counts.Length > 0).OfType<Phrase>().Select(p => Sentences.Sentence(words.Say(p))).ToArray(), null);
    }

    private static IEnumerable<Phrase?> Said(SeasonResults results, ImmutableArray<(int Whole, int Set)> lines, bool hasBelts)
    {
        var row = results.Verdicts[0];
        var whole = results.Whole;
        var benchmark = results.Season.Settings.SurvivalBenchmark;
        yield return Sentences.Count(whole, results.Trial);
        yield return Sentences.Interval(whole.Day28);
        var (low, high) = Wilson.Limits(lines.Sum(l => l.Whole), lines.Sum(l => l.Set));
        // Where lines differ no more than chance would make them, the plain interval has nothing to warn of.
        if (whole.Day28.Low < low && whole.Day28.Se is not null) yield return Phrase.Of("quick.plain", ("range", Numbers.PercentRange(low, high)));
        foreach (var note in whole.Day28.Notes) yield return note;
        yield return Sentences.Chance(whole.ChanceAtLeastBenchmark, benchmark);
        yield return row.Verdict.Survival.Kind switch
        {
            Verdicts.CallKind.Likely => Phrase.Of("quick.likely", ("benchmark", benchmark)),
            Verdicts.CallKind.Unlikely => Phrase.Of("quick.unlikely", ("benchmark", benchmark)),
            _ => Phrase.Of("quick.not_settled", ("why", row.Verdict.Survival.Why!)),
        };
        yield return Toss(row.Verdict, whole, benchmark);
        yield return Sentences.MoreLines(row, results.Trial);
        if (!hasBelts) yield break;
        var density = row.Density;
        yield return density.PerAcre is { Value: { } d, Low: { } l, High: { } h }
            ? Phrase.Of("quick.density", ("clumps", density.Clumps), ("acre", d), ("low", l), ("high", h))
            : Phrase.Of("quick.density_why", ("clumps", density.Clumps), ("acre", density.PerAcre.Value ?? 0), ("why", (object?)density.PerAcre.Why ?? ""));
        yield return row.Verdict.InWords is { } words ? Phrase.Of("quick.verdict", ("verdict", words)) : null;
    }

    /// <summary>Which way it leans with its chance; when it leans neither way, the chance is said all the same.</summary>
    private static Phrase? Toss(Verdicts.Verdict verdict, GroupResults whole, double benchmark) =>
        Sentences.Leaning(verdict, benchmark) ?? (verdict.Survival.IsMade || !whole.ChanceAtLeastBenchmark.HasValue ? null : Phrase.Of("quick.leans_neither", ("benchmark", benchmark)));

    private static ImmutableArray<(int, int)>? Lines(string typed)
    {
        var lines = ImmutableArray.CreateBuilder<(int, int)>();
        foreach (var token in typed.Replace(" of ", "/", StringComparison.OrdinalIgnoreCase).Split(Between, StringSplitOptions.RemoveEmptyEntries))
        {
            var parts = token.Split('/');
            if (parts.Length != 2 || !Count(parts[0], out var whole) || !Count(parts[1], out var set) || set < 1 || whole > set || set > MostNests) return null;
            lines.Add((whole, set));
        }

        return lines.Count is > 0 and <= MostLines ? lines.ToImmutable() : null;
    }

    private static ImmutableArray<int>? Counts(string typed)
    {
        var counts = ImmutableArray.CreateBuilder<int>();
        foreach (var token in typed.Split(Between, StringSplitOptions.RemoveEmptyEntries))
        {
            if (!Count(token, out var n)) return null;
            counts.Add(n);
        }

        return counts.Count is > 0 and <= MostLines ? counts.ToImmutable() : null;
    }

    private static bool Count(string text, out int n) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out n) && n < 1_000_000;

    private static double? AreaM2(string typed)
    {
        var unit = typed.TrimStart("0123456789. ".ToCharArray()).Trim().ToLowerInvariant();
        if (!double.TryParse(typed[..^unit.Length].Trim(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var x) || x is not (> 0 and < 1e6)) return null;
        return unit switch
        {
            "acre" or "acres" or "ac" => Area.FromAcres(x),
            "ha" or "hectare" or "hectares" => Area.FromHectares(x),
            "m2" or "m²" or "sqm" => x,
            "sqft" or "ft2" or "ft²" => x * Length.MetresPerFoot * Length.MetresPerFoot,
            _ => null,
        };
    }
}
