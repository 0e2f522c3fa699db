using Tussock.Records;

namespace Tussock.Fieldwork.Cameras;

/// <summary>Whether a whole text names one nest: "2-5", "T2-5", "transect 2 nest 5". Never a part of a text: numbers stand in many names.</summary>
internal sealed class NestSaid
{
    private static readonly string[] Fillers = ["TRANSECT", "LINE", "NEST", "STATION", "FLAG", "CAMERA", "CAM", "T", "N"];
    private readonly ILookup<string, Nest> exact, loose;

    internal NestSaid(Season season)
    {
        exact = season.Nests.ToLookup(n => Joined(Words(n.Transect.Name), n.Number), StringComparer.Ordinal);
        loose = season.Nests.ToLookup(n => Joined(Bare(Words(n.Transect.Name)), n.Number), StringComparer.Ordinal);
    }

    /// <summary>The nests that a text may name; several when two lines are called alike.</summary>
    internal Nest[] Named(string text)
    {
        var words = Words(text);
        if (words.Length < 2 || words[^1].Any(c => !char.IsAsciiDigit(c)) || words[^1].Length > 6) return [];
        var number = int.Parse(words[^1], System.Globalization.CultureInfo.InvariantCulture);
        var line = words[..^1];
        var found = exact[Joined(line, number)].ToArray();
        if (found.Length == 0 && line.Length > 1 && Fillers.Contains(line[^1])) found = [.. exact[Joined(line[..^1], number)]];
        return found.Length > 0 ? found : [.. loose[Joined(Bare(line), number)]];
    }

    private static string[] Bare(string[] words) => words.Where(w => !Fillers.Contains(w)).ToArray() is { Length: > 0 } bare ? bare : words;

    private static string Joined(string[] words, int number) => string.Join(' ', words) + "/" + Tussock.Words.Numbers.Whole(number);

    /// <summary>Runs of letters and runs of digits, capitals, without zeros in front.</summary>
    private static string[] Words(string text)
    {
        var words = new List<string>();
        var start = 0;
        for (var i = 0; i <= text.Length; i++)
        {
            if (i < text.Length && i > start && Kind(text[i]) == Kind(text[start])) continue;
            if (i > start && Kind(text[start]) != 0) words.Add(text[start..i].ToUpperInvariant());
            start = i;
        }

        return [.. words.Select(w => char.IsAsciiDigit(w[0]) && w.TrimStart('0') is { Length: > 0 } digits ? digits : w)];
    }

    private static int Kind(char c) => char.IsAsciiDigit(c) ? 1 : char.IsLetter(c) ? 2 : 0;
}
