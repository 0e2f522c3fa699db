using System.CommandLine;
using System.CommandLine.Help;
using System.Text;
using Tussock.App.Commands;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary><c>docs/commands.md</c> is what the program says of itself. Written anew with TUSSOCK_WRITE=1.</summary>
public class CommandReferenceTests
{
    private const int Width = 100;

    private static readonly string File = Path.Combine(Path.GetDirectoryName(Checks.Tests)!, "docs", "commands.md");

    private static Command Root => Tree.Root(new Screen(TextWriter.Null, TextWriter.Null, Catalogue.English), CancellationToken.None);

    public static TheoryData<string> Names => [.. Root.Subcommands.Select(c => c.Name)];

    [Fact]
    public void The_command_reference_is_what_help_says()
    {
        var text = Reference();
        if (Environment.GetEnvironmentVariable("TUSSOCK_WRITE") == "1") System.IO.File.WriteAllText(File, text);

        Assert.Equal(text, System.IO.File.ReadAllText(File));
        Assert.All(text.Split('\n'), line => Assert.True(line.Length <= Width + 1, line));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Help_names_every_argument_and_option_and_says_what_each_is_for(string name)
    {
        var command = Root.Subcommands.Single(c => c.Name == name);
        var help = Help(name);

        Assert.True(command.Description!.Length > 20, command.Description);
        Assert.Contains(command.Description, Help(name, 1000), StringComparison.Ordinal);
        foreach (var symbol in command.Options.Cast<Symbol>().Concat(command.Arguments))
        {
            Assert.Contains(symbol is Argument { HelpName: { } shown } ? shown : symbol.Name, help, StringComparison.Ordinal);
            Assert.True(symbol.Description is { Length: > 10 }, symbol.Name + " says nothing");
            Assert.DoesNotContain("help.", symbol.Description!, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Help_of_the_program_lists_every_command() => Assert.All(Root.Subcommands, c => Assert.Contains(c.Name + " ", Help(), StringComparison.Ordinal));

    private static string Reference()
    {
        var text = new StringBuilder("# Commands\n\nWhat `tussock --help` and `tussock COMMAND --help` say; written by the tests, not by hand.\n");
        foreach (var name in Root.Subcommands.SelectMany(c => c.Subcommands.Select(s => c.Name + " " + s.Name).Prepend(c.Name)).Prepend(""))
        {
            text.Append("\n## tussock").Append(name.Length > 0 ? " " + name : "").Append("\n\n```\n").Append(Help(name)).Append("\n```\n");
        }

        return text.ToString();
    }

    private static string Help(string command = "", int width = Width)
    {
        var root = Root;
        foreach (var help in root.Options.OfType<HelpOption>()) help.Action = new HelpAction { MaxWidth = width };
        using var output = new StringWriter();
        root.Parse([.. command.Split(' ', StringSplitOptions.RemoveEmptyEntries), "--help"]).Invoke(new InvocationConfiguration { Output = output });
        return string.Join('\n', output.ToString().Split('\n').Select(l => l.TrimEnd())).Trim();
    }
}
