using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Exchange.Spreadsheet;
using Tussock.Fieldwork;
using Tussock.Records;

namespace Tussock.Exchange.Workbook;

/// <summary>What the drop-downs offer: a hidden sheet with a list a column, each under a name.</summary>
internal sealed class EntryLists
{
    /// <summary>Name of the sheet.</summary>
    internal const string Sheet = "lists";

    internal const string YesNo = "list_yes_no", Directions = "list_directions", Covers = "list_covers", Causes = "list_causes", Culprits = "list_culprits", Signs = "list_signs";

    private const string OfSign = "sign_";
    private static readonly string[] Compass = ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"];

    private readonly List<(string Name, ImmutableArray<string> Values)> lists = [];

    internal EntryLists(ImmutableArray<CoverClass> covers)
    {
        lists.Add((YesNo, ["yes", "no"]));
        lists.Add((Directions, [.. Compass]));
        lists.Add((Causes, [.. FieldWords.OtherLossCauses.Select(t => t.Token)]));
        lists.Add((Culprits, SignCatalogue.Standard.Culprits));
        lists.Add((Signs, [.. SignCatalogue.Standard.Signs.Select(s => s.Sign)]));
        if (!covers.IsEmpty) lists.Add((Covers, [.. covers.Select(c => c.Name)]));
        foreach (var sign in SignCatalogue.Standard.Signs) lists.Add((OfSign + Plain(sign.Sign), [.. sign.Values, SignCatalogue.NotLooked]));
    }

    internal bool HasCovers => lists.Exists(l => l.Name == Covers);

    /// <summary>The name of a list of tokens; made when it is first asked for.</summary>
    internal string Name(ImmutableArray<string> tokens)
    {
        foreach (var list in lists) if (list.Values.AsSpan().SequenceEqual(tokens.AsSpan())) return list.Name;
        var name = "list_" + lists.Count.ToString(System.Globalization.CultureInfo.InvariantCulture) + "_" + tokens[0];
        lists.Add((name, tokens));
        return name;
    }

    /// <summary>The values of the sign that stands in a cell.</summary>
    internal static string ValuesOf(string cell) => "INDIRECT(\"" + OfSign + "\"&SUBSTITUTE(SUBSTITUTE(" + cell + ",\" \",\"_\"),\"-\",\"_\"))";

    /// <summary>The sheet, and the names of its columns; to be asked last.</summary>
    internal (WrittenSheet Sheet, ImmutableArray<NamedRange> Names) Write()
    {
        var depth = lists.Max(l => l.Values.Length);
        var rows = Enumerable.Range(0, depth).Select(r => lists.Select(l => r < l.Values.Length ? new WrittenCell(l.Values[r], null, CellLook.Text) : default).ToImmutableArray()).ToList();
        var names = lists.Select((l, i) => new NamedRange(l.Name, Sheet + "!$" + CellName.Letters(i) + "$2:$" + CellName.Letters(i) + "$" + (l.Values.Length + 1).ToString(System.Globalization.CultureInfo.InvariantCulture)));
        return (new WrittenSheet(Sheet, [.. lists.Select(l => new WrittenColumn(l.Name, 20, CellLook.Text))], rows) { IsHidden = true }, [.. names]);
    }

    private static string Plain(string sign) => sign.Replace(' ', '_').Replace('-', '_');
}
