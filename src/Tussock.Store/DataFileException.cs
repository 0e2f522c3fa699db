using System.Diagnostics.CodeAnalysis;

namespace Tussock.Store;

/// <summary>The data can't be used as asked: no fault of the program. Holds the sentence for people.</summary>
[SuppressMessage("Design", "CA1032", Justification = "It is nothing without its problem.")]
public sealed class DataFileException(Problem problem, Exception? cause = null) : Exception(problem.Rule, cause)
{
    /// <summary>What is wrong and what to do.</summary>
    public Problem Problem { get; } = problem;

    /// <summary>About a file, which is named without its folder.</summary>
    internal static DataFileException Of(string rule, string path, params ReadOnlySpan<(string Name, object Value)> more) => About(rule, Path.GetFileName(path), more);

    /// <summary>About data that are called so.</summary>
    internal static DataFileException About(string rule, string name, params ReadOnlySpan<(string Name, object Value)> more) =>
        new(new Problem(rule, Severity.Stop, new Place(name), Phrase.Of("store." + rule, [("file", name), .. more]), Phrase.Of("store." + rule + "_todo")));
}
