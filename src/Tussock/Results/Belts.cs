using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>From a season's belt records to the units of clump density.</summary>
internal sealed class Belts
{
    private Belts(ImmutableArray<BeltUnit> units, ImmutableArray<CourseWalk> walks, ImmutableArray<string> classes) => (Units, Walks, Classes) = (units, walks, classes);

    /// <summary>One unit a segment and class, passes merged.</summary>
    internal ImmutableArray<BeltUnit> Units { get; }

    internal ImmutableArray<CourseWalk> Walks { get; }

    /// <summary>Cover classes of the belts: the season's in its order, then others in ordinal order.</summary>
    internal ImmutableArray<string> Classes { get; }

    internal static Belts Of(Season season)
    {
        var listed = season.Settings.CoverClasses.Select(c => c.Name).ToList();
        var others = season.Segments.Select(s => s.Cover).Distinct(StringComparer.Ordinal).Except(listed, StringComparer.Ordinal).Order(StringComparer.Ordinal);
        ImmutableArray<string> classes = [.. listed, .. others];
        var cover = Indexed(classes);
        var line = Indexed([.. season.Transects.Select(t => t.Line).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)]);
        var transect = new Dictionary<Transect, int>();
        foreach (var t in season.Transects) transect.Add(t, transect.Count);
        var pasture = new Dictionary<Pasture, int>();
        foreach (var p in season.Pastures) pasture.Add(p, pasture.Count);
        var counts = season.Segments.Select(s => new SegmentCount
        {
            Line = line[s.Transect.Line],
            Transect = transect[s.Transect],
            Pasture = pasture[s.Transect.Pasture],
            Segment = s.Number,
            Cover = cover[s.Cover],
            Clumps = s.Clumps ?? 0,
            Steps = s.Steps ?? 0,
            StepM = s.StepM ?? 0,
            WidthM = s.WidthM ?? 0,
            Side = s.IsOneSided ? BeltSide.Left : BeltSide.Both,
            Pass = s.Pass,
            Walker = s.Observer.Length > 0 ? s.Observer : null,
            IsCounted = s is { IsCounted: true, AreaM2: > 0 },
        });
        var walks = season.CrewWalks.Where(w => w is { CourseM: > 0, Steps: > 0 }).Select(w => new CourseWalk(w.Observer, w.CourseM!.Value / w.Steps!.Value, w.ArmSpanM));
        return new Belts(PassesMerged.Of(counts), [.. walks], classes);
    }

    /// <summary>The question of the season's benchmark: the classes that count towards it.</summary>
    internal DensityQuestion Question(SeasonSettings settings) => new()
    {
        BenchmarkPerAcre = settings.ClumpsPerAcreBenchmark,
        Walks = Walks,
        Classes = settings.ClassesThatCount.IsEmpty ? [] : [.. settings.ClassesThatCount.Select(c => Classes.IndexOf(c)).Where(i => i >= 0)],
    };

    private static Dictionary<string, int> Indexed(ImmutableArray<string> names)
    {
        var index = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var name in names) index.TryAdd(name, index.Count);
        return index;
    }
}
