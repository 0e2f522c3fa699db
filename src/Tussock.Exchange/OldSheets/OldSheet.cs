using System.Collections.Immutable;

namespace Tussock.Exchange.OldSheets;

/// <summary>A sheet of somebody's own with one row a nest, as it was found: its headings, its rows, and the rows that only sum up.</summary>
/// <param name="File">Name of the file.</param>
/// <param name="Title">What stands above the headings; empty when nothing does.</param>
/// <param name="Columns">Its columns, left to right.</param>
/// <param name="Rows">Rows of nests, from the top.</param>
/// <param name="Totals">Rows that sum up.</param>
/// <param name="Passed">Names of sheets that have other headings and were passed over.</param>
public sealed record OldSheet(string File, string Title, ImmutableArray<OldColumn> Columns, ImmutableArray<OldRow> Rows, ImmutableArray<OldRow> Totals, ImmutableArray<string> Passed)
{
    /// <summary>The year that the title or the file's name says, 1900 to 2100; null when none or several do.</summary>
    public int? Year => Years(Title) ?? Years(File);

    /// <summary>Whether another sheet has the same headings.</summary>
    public string Signature => string.Join('\u001F', Columns.Select(c => c.Heading.ToUpperInvariant()));

    private static int? Years(string text)
    {
        var years = System.Text.RegularExpressions.Regex.Matches(text, "(?<![0-9])(19|20)[0-9]{2}(?![0-9])", System.Text.RegularExpressions.RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(1)).Select(m => int.Parse(m.Value, System.Globalization.CultureInfo.InvariantCulture)).Distinct().ToArray();
        return years.Length == 1 ? years[0] : null;
    }
}

/// <summary>A column of such a sheet.</summary>
/// <param name="Heading">Its heading; its letter in brackets where it has none.</param>
/// <param name="Samples">Some of its values, different ones, the most frequent first.</param>
/// <param name="Guess">What it probably is.</param>
public sealed record OldColumn(string Heading, ImmutableArray<string> Samples, SheetMeaning Guess);

/// <summary>A row.</summary>
/// <param name="Number">Its number on the sheet.</param>
/// <param name="Cells">One text a column.</param>
public sealed record OldRow(int Number, ImmutableArray<string> Cells);
