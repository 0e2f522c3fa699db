using System.CommandLine;

namespace Tussock.App.Commands;

/// <summary><c>tussock quick</c>: the tailgate answer from a few typed numbers.</summary>
internal static class QuickCommand
{
    internal static Command Make(Screen screen)
    {
        var lines = new Argument<string[]>("lines") { Description = screen.Words.Say("help.quick.lines"), Arity = ArgumentArity.OneOrMore };
        var clumps = new Option<string?>("--clumps") { Description = screen.Words.Say("help.quick.clumps") };
        var area = new Option<string?>("--area") { Description = screen.Words.Say("help.quick.area") };
        var command = new Command("quick", screen.Words.Say("help.quick")) { lines, clumps, area };
        command.SetAction(parsed => Run(screen, string.Join(' ', parsed.GetValue(lines)!), parsed.GetValue(clumps), parsed.GetValue(area)));
        return command;
    }

    private static int Run(Screen screen, string typed, string? clumps, string? area)
    {
        var (said, wrong) = QuickAnswer.Of(typed, clumps, area, screen.Words);
        if (wrong is not null) return screen.Refuse(wrong);
        foreach (var sentence in said) screen.Out.WriteLine(sentence);
        return Exit.Done;
    }
}
