using System.CommandLine;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>The language in which the program speaks: asked for, else that of the environment variable, else English.</summary>
internal static class Language
{
    private const string Name = "--language";
    private const string Variable = "TUSSOCK_LANGUAGE";

    /// <summary>The option as help and the reader of the command line know it; its value is looked for before either speaks.</summary>
    internal static Option<string?> Option(Screen screen) => new(Name) { Description = screen.Words.Say("help.language"), HelpName = "LANGUAGE", Recursive = true };

    /// <summary>The catalogue of a command line, and the language that was asked for when there is none of it.</summary>
    internal static (Catalogue Words, string? Unknown) Of(string[] args)
    {
        var at = Array.FindIndex(args, a => a == Name || a.StartsWith(Name + "=", StringComparison.Ordinal));
        var asked = at < 0 ? Environment.GetEnvironmentVariable(Variable) ?? "" : args[at].Length > Name.Length ? args[at][(Name.Length + 1)..] : at + 1 < args.Length ? args[at + 1] : "";
        if (asked.Length == 0) return (Catalogue.English, null);
        return Catalogue.Of(asked) is { } words ? (words, null) : (Catalogue.English, asked);
    }
}
