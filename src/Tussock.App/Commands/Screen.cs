using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>Where a command says things: results on one side, everything else on the other; and how.</summary>
/// <param name="Out">Standard output: the result and nothing else.</param>
/// <param name="Err">Standard error: progress, findings, what went wrong.</param>
/// <param name="Words">Language.</param>
public sealed record Screen(TextWriter Out, TextWriter Err, Catalogue Words)
{
    /// <summary>Says a sentence on standard error and returns exit code 1: the data or the request is at fault.</summary>
    public int Refuse(Phrase phrase)
    {
        Err.WriteLine(Words.Say(phrase));
        return Exit.AtFault;
    }

    /// <summary>Says everything that is wrong on standard error, file by file and line by line, and returns exit code 1.</summary>
    public int Refuse(IReadOnlyCollection<Problem> problems)
    {
        const int Most = 200;
        var files = problems.Select(p => p.Place.File).Distinct(StringComparer.Ordinal).ToList();
        foreach (var problem in problems.OrderBy(p => files.IndexOf(p.Place.File)).ThenBy(p => p.Place.Line ?? 0).Take(Most)) Err.WriteLine(Line(problem));
        if (problems.Count > Most) Err.WriteLine(Words.Say(Phrase.Of("app.and_more", ("count", problems.Count - Most))));
        Err.WriteLine(Words.Say(Phrase.Of("app.stopped", ("count", problems.Count))));
        return Exit.AtFault;
    }

    /// <summary>Asks somebody at a terminal; a script has nobody to ask, so its answer is no.</summary>
    /// <param name="question">The question; it may list first what it is about.</param>
    public bool IsYes(Action<TextWriter> question)
    {
        ArgumentNullException.ThrowIfNull(question);
        if (Console.IsInputRedirected || Console.IsErrorRedirected) return false;
        question(Err);
        return Console.ReadLine()?.Trim() is { } answer && answer.StartsWith("y", StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>Writes a finished UTF-8 document and a line end to standard output; past the console's writer, which is slow for megabytes.</summary>
    public void WriteBytes(ReadOnlySpan<byte> document)
    {
        if (!ReferenceEquals(Out, Console.Out))
        {
            Out.WriteLine(System.Text.Encoding.UTF8.GetString(document));
            return;
        }

        Out.Flush();
        using var stream = Console.OpenStandardOutput();
        stream.Write(document);
        stream.Write("\n"u8);
    }

    /// <summary>One finding as one line: place, what was found, what to do.</summary>
    public string Line(Problem problem) => problem.Place + ": " + Sentences.Sentence(Words.Say(problem.What)) + " " + Sentences.Sentence(Words.Say(problem.ToDo));
}

/// <summary>Exit codes of the program.</summary>
public static class Exit
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>The data or the request is at fault; a sentence on standard error says what and where.</summary>
    public const int AtFault = 1;

    /// <summary>Wrong usage.</summary>
    public const int WrongUsage = 2;

    /// <summary>A fault of the program.</summary>
    public const int Broken = 3;
}
