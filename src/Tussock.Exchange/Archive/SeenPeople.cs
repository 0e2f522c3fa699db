using Tussock.Evidence;
using Tussock.Records;

namespace Tussock.Exchange.Archive;

/// <summary>Which rows of cameras are about people, whatever word was written for them.</summary>
internal static class SeenPeople
{
    private const string Person = "person";

    /// <summary>Whether a camera saw people: by the role, the class, or the species that was recorded.</summary>
    internal static bool In(Source row) => row.Token("role") == Person || Is(row.Text("culprit")) || Is(row.Text("species"));

    /// <summary>The class that goes out for a word of a crew: people are people, and what is in no list is another animal.</summary>
    internal static string Class(string written) => IsListed(written) ? written : Is(written) ? Person : "other";

    /// <summary>Whether a word is one of the classes.</summary>
    internal static bool IsListed(string written) => SpeciesMap.Classes.Contains(Cell.Token(written));

    private static bool Is(string written) => SpeciesMap.Standard.Of(written.Replace('_', ' ')).Culprit == Person;
}
