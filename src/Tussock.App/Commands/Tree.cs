using System.CommandLine;
using System.CommandLine.Help;
using Tussock.Store;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>The commands of the program, and the one place where its failures become exit codes.</summary>
public static class Tree
{
    /// <summary>Runs one command line.</summary>
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        error = HidingWriter.Around(error, args);
        var (words, unknown) = Language.Of(args);
        var screen = new Screen(output, error, words);
        if (unknown is not null)
        {
            error.WriteLine(words.Say(Phrase.Of("app.no_language", ("language", unknown), ("languages", Catalogue.Languages))));
            return Exit.WrongUsage;
        }

        using var stop = new CancellationTokenSource();
        ConsoleCancelEventHandler cancel = (_, e) =>
        {
            e.Cancel = true;
            stop.Cancel();
        };
        Console.CancelKeyPress += cancel;
        try
        {
            var parsed = Root(screen, stop.Token).Parse(args);
            if (parsed.Errors.Count > 0)
            {
                foreach (var wrong in parsed.Errors) error.WriteLine(wrong.Message);
                error.WriteLine(screen.Words.Say(Phrase.Of("app.usage", ("command", Typed(parsed.CommandResult)))));
                return Exit.WrongUsage;
            }

            return parsed.Invoke(new InvocationConfiguration { Output = output, Error = error, EnableDefaultExceptionHandler = false });
        }
        catch (OperationCanceledException)
        {
            error.WriteLine(screen.Words.Say("app.cancelled"));
            return Exit.AtFault;
        }
        catch (DataFileException fault)
        {
            return screen.Refuse([fault.Problem]);
        }
        catch (IOException fault)
        {
            // A full disk, a path that is taken away: the world is at fault, not the program; the system's own sentence says which.
            error.WriteLine(screen.Words.Say(Phrase.Of("app.disk", ("message", fault.Message))));
            return Exit.AtFault;
        }
        catch (UnauthorizedAccessException fault)
        {
            error.WriteLine(screen.Words.Say(Phrase.Of("app.disk", ("message", fault.Message))));
            return Exit.AtFault;
        }
#pragma warning disable CA1031 // The outer edge: whatever is left is a fault of the program, said once and with no land, people or places in it.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            error.WriteLine(screen.Words.Say(Phrase.Of("app.broken", ("kind", fault.GetType().Name), ("where", Where(fault)))));
            if (Environment.GetEnvironmentVariable("TUSSOCK_TRACE") == "1") error.WriteLine(fault);
            return Exit.Broken;
        }
        finally
        {
            Console.CancelKeyPress -= cancel;
        }
    }

    /// <summary>The tree of commands, for running and for the command reference.</summary>
    /// <remarks>Not the library's root command: that one is named after the file of the program, which people never type.</remarks>
    public static Command Root(Screen screen, CancellationToken cancel)
    {
        return new Command("tussock", screen.Words.Say("app.about"))
        {
            new HelpOption(),
            new VersionOption(),
            Language.Option(screen),
            QuickCommand.Make(screen),
            ResultsCommand.Make(screen, cancel),
            ModelCommand.Make(screen, cancel),
            SignsCommand.Make(screen, cancel),
            CompareCommand.Make(screen, cancel),
            PowerCommand.Make(screen, cancel),
            ReportCommand.Make(screen, cancel),
            PlanCommand.Make(screen, cancel),
            ScheduleCommand.Make(screen, cancel),
            SheetsCommand.Make(screen, cancel),
            InspectCommand.Make(screen, cancel),
            ImportCommand.Make(screen, cancel),
            ExportCommand.Make(screen, cancel),
            CheckCommand.Make(screen, cancel),
            BackupCommand.Make(screen, cancel),
            RestoreCommand.Make(screen, cancel),
            ServeCommand.Make(screen, cancel),
            PhonesCommand.Make(screen),
            PeopleCommand.Make(screen, cancel),
            FieldCommand.Make(screen),
            DemoCommand.Make(screen, cancel),
            PracticeCommand.Make(screen, cancel),
        };
    }

    /// <summary>A command as it is typed: <c>tussock people add</c>.</summary>
    private static string Typed(System.CommandLine.Parsing.CommandResult command)
    {
        var typed = command.Command.Name;
        for (var above = command.Parent; above is System.CommandLine.Parsing.CommandResult parent; above = parent.Parent) typed = parent.Command.Name + " " + typed;
        return typed;
    }

    private static string Where(Exception fault) =>
        fault.StackTrace?.Split('\n').Select(l => l.Trim()).FirstOrDefault(l => l.StartsWith("at Tussock", StringComparison.Ordinal)) is { } line ? line.Split('(')[0][3..] : "";
}
