using Spectre.Console;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>A page of text with tables, of one width whatever the terminal is: what commands print.</summary>
internal sealed class TextPage
{
    private const int Width = 118;
    private readonly Catalogue words;
    private readonly TextWriter output;
    private readonly IAnsiConsole console;

    internal TextPage(Catalogue words, TextWriter output)
    {
        (this.words, this.output) = (words, output);
        console = AnsiConsole.Create(new AnsiConsoleSettings { Ansi = AnsiSupport.No, ColorSystem = ColorSystemSupport.NoColors, Interactive = InteractionSupport.No, Out = new AnsiConsoleOutput(output) });
        console.Profile.Width = Width;
    }

    /// <summary>A table whose columns have these names, by key; all but the first stand to the right.</summary>
    internal Table Table(params ReadOnlySpan<string> heads)
    {
        var table = new Table { Border = TableBorder.Simple };
        for (var i = 0; i < heads.Length; i++)
        {
            var column = new TableColumn(Markup.Escape(words.Say(heads[i])));
            table.AddColumn(i == 0 ? column : column.RightAligned());
        }

        return table;
    }

    /// <summary>A row of plain text.</summary>
    internal static void Row(Table table, params string[] cells) => table.AddRow(cells.Select(Markup.Escape).ToArray());

    /// <summary>Prints a table.</summary>
    internal void Write(Table table) => console.Write(table);

    /// <summary>Prints a sentence.</summary>
    internal void Line(Phrase phrase, string indent = "") => output.WriteLine(indent + Sentences.Sentence(words.Say(phrase)));
}
