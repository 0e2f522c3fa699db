using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Tussock.Evidence;
using Tussock.Fieldwork.Cameras;
using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary>Options of <c>import</c> for what cameras recorded.</summary>
internal sealed class CameraOptions
{
    private readonly Option<string?> nest, species;
    private readonly Option<string[]> offsets, nests;
    private readonly Option<double> gap, within;

    internal CameraOptions(Screen screen)
    {
        nest = new("--camera") { Description = screen.Words.Say("help.import.camera"), HelpName = "NEST" };
        offsets = new("--clock-offset-min") { Description = screen.Words.Say("help.import.clock_offset"), HelpName = "[CAMERA=]N" };
        nests = new("--nest") { Description = screen.Words.Say("help.import.nest"), HelpName = "CAMERA=NEST" };
        species = new("--species") { Description = screen.Words.Say("help.import.species"), HelpName = "FILE" };
        gap = new("--gap-min") { Description = screen.Words.Say("help.import.gap"), HelpName = "N", DefaultValueFactory = _ => CameraVisits.UsualGapMin };
        within = new("--within-m") { Description = screen.Words.Say("help.import.within"), HelpName = "N", DefaultValueFactory = _ => CameraMatching.UsualWithinM };
    }

    internal IEnumerable<Option> All => [nest, offsets, nests, species, gap, within];

    /// <summary>The nest of a folder of pictures from one camera; null when none was named.</summary>
    internal string? Nest(ParseResult parsed) => parsed.GetValue(nest);

    /// <summary>What was asked for; null, and what is wrong, when it can't be.</summary>
    internal (CameraRequest? Request, ImmutableArray<Problem> Problems) Read(ParseResult parsed)
    {
        var wrong = new List<Problem>();
        var decided = Pairs(parsed.GetValue(nests) ?? []).ToDictionary(p => p.Key, p => p.Value, StringComparer.Ordinal);
        double? all = null;
        var single = ImmutableDictionary.CreateBuilder<string, double>(StringComparer.Ordinal);
        foreach (var (key, value) in Pairs(parsed.GetValue(offsets) ?? []))
        {
            if (Cell.Number(value) is not { } minutes || Math.Abs(minutes) > 60 * 24 * 400) wrong.Add(Wrong("cameras.no_offset", value));
            else if (key.Length == 0) all = minutes;
            else single[key] = minutes;
        }

        foreach (var (key, value) in decided) if (key.Length == 0) wrong.Add(Wrong("cameras.no_pair", value));
        if (!(parsed.GetValue(gap) is >= 0 and <= 1440)) wrong.Add(Wrong("cameras.odd_gap", parsed.GetValue(gap).ToString(CultureInfo.InvariantCulture)));
        if (!(parsed.GetValue(within) is > 0 and <= 1000)) wrong.Add(Wrong("cameras.odd_within", parsed.GetValue(within).ToString(CultureInfo.InvariantCulture)));
        var map = parsed.GetValue(species) is { } file ? Species(file, wrong) : SpeciesMap.Standard;
        if (wrong.Count > 0) return (null, [.. wrong]);
        return (new CameraRequest(decided, parsed.GetValue(within), new CameraChoices { Species = map, GapMin = parsed.GetValue(gap), ClockOffsetMin = all, ClockOffsets = single.ToImmutable() }), []);
    }

    private static IEnumerable<KeyValuePair<string, string>> Pairs(string[] texts) =>
        texts.Select(t => t.LastIndexOf('=') is >= 0 and var cut ? KeyValuePair.Create(t[..cut], t[(cut + 1)..]) : KeyValuePair.Create("", t)).GroupBy(p => p.Key, StringComparer.Ordinal).Select(g => g.Last());

    /// <summary>A list of one's own: a name and a class a line, a comma between; a header and empty lines are let go.</summary>
    private static SpeciesMap Species(string file, List<Problem> wrong)
    {
        string[] lines;
        try
        {
            lines = File.ReadAllLines(file);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // No such file, or no leave to read it: said, and nothing is taken in.
            wrong.Add(Wrong("cameras.species_unreadable", file));
            return SpeciesMap.Standard;
        }

        var names = new List<KeyValuePair<string, string>>();
        for (var i = 0; i < lines.Length; i++)
        {
            var cut = lines[i].LastIndexOf(',');
            var culprit = cut < 0 ? "" : Cell.Token(lines[i][(cut + 1)..].Trim('"', ' '));
            if (lines[i].Trim().Length == 0 || (i == 0 && culprit is "class" or "culprit")) continue;
            if (SpeciesMap.Classes.Contains(culprit)) names.Add(KeyValuePair.Create(lines[i][..cut].Trim('"', ' '), culprit));
            else wrong.Add(new Problem("species", Severity.Stop, new Place(Path.GetFileName(file), i + 1), Phrase.Of("cameras.species_line", ("found", TableCheck.Shown(lines[i])), ("classes", string.Join(", ", SpeciesMap.Classes))), Phrase.Of("cameras.species_line_todo")));
        }

        return SpeciesMap.Standard.With(names);
    }

    private static Problem Wrong(string key, string found) => new("request", Severity.Stop, new Place("import"), Phrase.Of(key, ("found", TableCheck.Shown(found))), Phrase.Of(key + "_todo"));
}

/// <summary>How records of cameras are taken in.</summary>
/// <param name="Decided">Camera to nest, as somebody decided.</param>
/// <param name="WithinM">Greatest distance to a nest, metres.</param>
/// <param name="Choices">The rest.</param>
internal sealed record CameraRequest(IReadOnlyDictionary<string, string> Decided, double WithinM, CameraChoices Choices);
