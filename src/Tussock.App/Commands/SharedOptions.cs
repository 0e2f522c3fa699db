using System.CommandLine;
using System.Globalization;
using Tussock.Results;

namespace Tussock.App.Commands;

/// <summary>Arguments and options that several commands share.</summary>
internal static class SharedOptions
{
    internal static Argument<string> Data(Screen screen) => new("data") { Description = screen.Words.Say("help.data"), HelpName = "DATA" };

    internal static Option<string?> Season(Screen screen) => new("--season") { Description = screen.Words.Say("help.season"), HelpName = "NAME" };

    /// <summary>The season, for commands that can pool all of them.</summary>
    internal static Option<string?> SeasonOrAll(Screen screen) => new("--season") { Description = screen.Words.Say("help.season_or_all"), HelpName = "NAME" };

    internal static Option<bool> Json(Screen screen) => new("--json") { Description = screen.Words.Say("help.json") };

    internal static Option<ulong> Seed(Screen screen) => new("--seed") { Description = screen.Words.Say("help.seed"), HelpName = "N", DefaultValueFactory = _ => 1UL };

    internal static Option<DateTimeOffset?> At(Screen screen)
    {
        var option = new Option<DateTimeOffset?>("--at")
        {
            Description = screen.Words.Say("help.at"),
            HelpName = "TIME",
            CustomParser = result =>
            {
                if (result.Tokens.Count == 1 && DateTimeOffset.TryParse(result.Tokens[0].Value, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)) return at;
                result.AddError(screen.Words.Say("help.at_wrong"));
                return null;
            },
        };
        return option;
    }

    internal static Option<string?> By(Screen screen) => new("--as") { Description = screen.Words.Say("help.as"), HelpName = "NAME" };

    /// <summary>Version of the program, as documents name it.</summary>
    internal static string Version { get; } = typeof(SharedOptions).Assembly.GetName().Version?.ToString(3) ?? "0";

    /// <summary>What a document says about its making.</summary>
    internal static MadeWith Made(ulong seed, DateTimeOffset? at) => new(Version, seed, (at ?? DateTimeOffset.UtcNow).ToUniversalTime().ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));

    /// <summary>Who does it: the name given, else the account of the operating system.</summary>
    internal static string Who(string? given) => string.IsNullOrWhiteSpace(given) ? Environment.UserName : given.Trim();
}
