using System.Collections.Immutable;

namespace Tussock.Desk.Entry;

/// <summary>What one letter stands for in a cell.</summary>
/// <param name="Letter">The letter; empty when all letters of the word stand for others.</param>
/// <param name="Token">As records spell it.</param>
/// <param name="Word">As the sheet spells it, in the page's language.</param>
public sealed record EntryChoice(string Letter, string Token, string Word)
{
    /// <summary>Gives each word the first of its letters that no word before it has.</summary>
    public static ImmutableArray<EntryChoice> Of(IEnumerable<(string Token, string Word)> words)
    {
        var taken = new HashSet<char>();
        return [.. words.Select(w => new EntryChoice(w.Word.ToLowerInvariant().FirstOrDefault(c => char.IsLetter(c) && taken.Add(c)) is var c and not '\0' ? c.ToString() : "", w.Token, w.Word))];
    }
}
