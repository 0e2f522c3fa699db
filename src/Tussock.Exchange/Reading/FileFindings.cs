namespace Tussock.Exchange.Reading;

/// <summary>Gathers what is wrong with one file: tells the first ones one by one and counts the rest, so that a broken file can't bury the others.</summary>
/// <param name="file">Name of the file.</param>
/// <param name="most">How many are told one by one.</param>
/// <param name="problems">Where they go.</param>
/// <param name="subject">The sentences of a rule are SUBJECT.RULE and SUBJECT.RULE_todo.</param>
internal sealed class FileFindings(string file, int most, List<Problem> problems, string subject = "folder")
{
    private int count;

    /// <summary>Name of the file.</summary>
    internal string File => file;

    /// <summary>Adds what stops the reading. Both sentences have the same arguments.</summary>
    internal void Stop(string rule, int? line, string? column, params ReadOnlySpan<(string Name, object Value)> arguments) =>
        Add(rule, Severity.Stop, line, column, arguments);

    /// <summary>Adds what is worth knowing.</summary>
    internal void Note(string rule, params ReadOnlySpan<(string Name, object Value)> arguments) => Add(rule, Severity.Note, null, null, arguments);

    /// <summary>Says how many were not told.</summary>
    internal void Close()
    {
        if (count > most) problems.Add(new Problem("more_problems", Severity.Stop, new Place(file), Phrase.Of("folder.more_problems", ("count", count - most)), Phrase.Of("folder.more_problems_todo")));
    }

    private void Add(string rule, Severity severity, int? line, string? column, ReadOnlySpan<(string Name, object Value)> arguments)
    {
        count++;
        if (count <= most) problems.Add(new Problem(rule, severity, new Place(file, line, column), Phrase.Of(subject + "." + rule, arguments), Phrase.Of(subject + "." + rule + "_todo", arguments)));
    }
}
