using Tussock.Records;

namespace Tussock.Review;

/// <summary>Quail eggs: predators leave almost no shell of them, so remains tell less.</summary>
internal static class QuailEggs
{
    internal static void Look(Inspection on)
    {
        if (IsQuail(on.Season.Settings.EggKind))
        {
            on.Add("quail_eggs", Severity.Note, new Place("datapackage.json", null, "season.egg_kind"));
            return;
        }

        var kinds = new RowCells(on.Season, RecordKind.Nests, "egg_kind");
        Nest? first = null;
        foreach (var nest in on.Season.Nests)
        {
            if (kinds.IsThere && IsQuail(kinds.Text(nest.Source)) && (first is null || nest.Source.Row.Line < first.Source.Row.Line)) first = nest;
        }

        if (first is not null) on.Add("quail_eggs", Severity.Note, first.Source.Place("egg_kind"));
    }

    private static bool IsQuail(string kind) => kind.Contains("quail", StringComparison.OrdinalIgnoreCase);
}
