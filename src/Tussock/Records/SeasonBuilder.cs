using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>Builds the records of a season from checked tables, joining rows by their keys.</summary>
internal sealed class SeasonBuilder(SeasonTables tables, SeasonSettings settings, List<Problem> problems)
{
    private readonly Dictionary<(string Property, string Pasture), Pasture> pastures = [];
    private readonly Dictionary<string, Transect> transects = new(StringComparer.Ordinal);
    private readonly Dictionary<(string Transect, int Number), Nest> nests = [];
    private readonly Dictionary<(string What, string Key), (Source Stands, List<Source> Others)> clashes = [];

    internal Season Build()
    {
        Each(RecordKind.Pastures, ReadPasture);
        Each(RecordKind.Transects, ReadTransect);
        Each(RecordKind.Nests, ReadNest);
        var days = new DayReading(problems);
        var visits = Nested(RecordKind.Visits, days.Visit);
        var remains = Nested(RecordKind.Remains, days.Remains);
        var deployments = Nested(RecordKind.Deployments, DayReading.Deployment);
        var stood = new CamerasAtNests(deployments);
        var cameras = Nested(RecordKind.Cameras, (c, r, n) => days.Camera(c, r, n, stood.Of(n, c.Source(r))?.ClockOffsetMin ?? 0));
        var segments = Segments();
        var order = Ordered();
        return new Season
        {
            Settings = settings,
            Pastures = [.. pastures.Values.OrderBy(p => p.Property, StringComparer.Ordinal).ThenBy(p => p.Name, StringComparer.Ordinal)],
            Transects = [.. order.Keys],
            Nests = Sorted([.. nests.Values], order, n => n, _ => null),
            Visits = Sorted(visits, order, v => v.Nest, v => v.Day),
            Remains = Sorted(remains, order, r => r.Nest, r => r.Day),
            CameraEvents = Sorted(cameras, order, c => c.Nest, c => c.Day),
            Deployments = Sorted(deployments, order, d => d.Nest, _ => null),
            Segments = [.. segments.OrderBy(s => order[s.Transect]).ThenBy(s => s.Number).ThenBy(s => s.Cover, StringComparer.Ordinal).ThenBy(s => s.Pass)],
            CrewWalks = [.. Walks()],
            Events = [.. LandEvents()],
            Clashes = [.. clashes.SelectMany(c => c.Value.Others.Select(o => new Clash(c.Key.What, c.Key.Key, c.Value.Stands, o)))],
            Tables = tables,
        };
    }

    private Dictionary<Transect, int> Ordered()
    {
        var sorted = transects.Values.OrderBy(t => t.Pasture.Property, StringComparer.Ordinal).ThenBy(t => t.Pasture.Name, StringComparer.Ordinal).ThenBy(t => t.Name, StringComparer.Ordinal);
        var order = new Dictionary<Transect, int>();
        foreach (var transect in sorted) order.Add(transect, order.Count);
        return order;
    }

    /// <summary>By transect, nest and day; rows that agree stay in the order of the file.</summary>
    private static ImmutableArray<T> Sorted<T>(List<T> records, Dictionary<Transect, int> order, Func<T, Nest> nest, Func<T, double?> day)
    {
        var keys = new (int Transect, int Nest, double Day, int Row)[records.Count];
        for (var i = 0; i < keys.Length; i++) keys[i] = (order[nest(records[i]).Transect], nest(records[i]).Number, day(records[i]) ?? double.MaxValue, i);
        var isInOrder = true;
        for (var i = 1; i < keys.Length && isInOrder; i++) isInOrder = keys[i - 1].CompareTo(keys[i]) < 0;
        if (isInOrder) return [.. records];
        Array.Sort(keys);
        return [.. keys.Select(k => records[k.Row])];
    }

    private void Each(RecordKind kind, Action<TableColumns, RecordRow> read)
    {
        if (tables.Table(kind) is not { } table) return;
        var columns = new TableColumns(table);
        foreach (var row in table.Rows) read(columns, row);
    }

    private List<T> Nested<T>(RecordKind kind, Func<TableColumns, RecordRow, Nest, T> read)
    {
        var list = new List<T>(tables.Table(kind)?.Rows.Length ?? 0);
        Each(kind, (c, r) =>
        {
            var transect = c.Text(r, "transect");
            var number = c.Whole(r, "nest") ?? 0;
            if (nests.TryGetValue((transect, number), out var nest)) list.Add(read(c, r, nest));
            else Stop("no_such_nest", c, r, "nest", Phrase.Of("reading.no_such_nest", ("transect", transect), ("nest", number)), Phrase.Of("reading.no_such_nest_todo"));
        });
        return list;
    }

    private void ReadPasture(TableColumns c, RecordRow r)
    {
        var pasture = new Pasture { Property = c.Text(r, "property"), Name = c.Text(r, "pasture"), AreaHa = c.Number(r, "area_ha"), Source = c.Source(r) };
        Enter(pastures, (pasture.Property, pasture.Name), pasture, p => p.Source, "pasture", pasture.Property + ", " + pasture.Name);
    }

    private void ReadTransect(TableColumns c, RecordRow r)
    {
        var name = c.Text(r, "transect");
        if (!pastures.TryGetValue((c.Text(r, "property"), c.Text(r, "pasture")), out var pasture))
        {
            Stop("no_such_pasture", c, r, "pasture", Phrase.Of("reading.no_such_pasture", ("property", c.Text(r, "property")), ("pasture", c.Text(r, "pasture"))), Phrase.Of("reading.no_such_pasture_todo"));
            return;
        }

        var line = c.Text(r, "line");
        var transect = new Transect
        {
            Name = name,
            Pasture = pasture,
            Line = line.Length > 0 ? line : name,
            SetOn = c.Date(r, "set_on"),
            StepM = c.Number(r, "step_m"),
            StepsBetween = c.Number(r, "steps_between"),
            Start = c.Position(r, "start_lat", "start_lon"),
            End = c.Position(r, "end_lat", "end_lon"),
            BearingTrueDeg = Land.Direction.Parse(c.Text(r, "bearing_true_deg"))?.Degrees,
            Source = c.Source(r),
        };
        Enter(transects, name, transect, t => t.Source, "transect", name);
    }

    private void ReadNest(TableColumns c, RecordRow r)
    {
        var name = c.Text(r, "transect");
        var number = c.Whole(r, "nest") ?? 0;
        if (!transects.TryGetValue(name, out var transect))
        {
            Stop("no_such_transect", c, r, "transect", Phrase.Of("reading.no_such_transect", ("transect", name)), Phrase.Of("reading.no_such_transect_todo"));
            return;
        }

        if (number < 1) problems.Add(TableCheck.Unreadable(c.Table, r, "nest", c.Text(r, "nest"), Phrase.Of("reading.expect_nest_number")));
        var nest = new Nest
        {
            Transect = transect,
            Number = number,
            Cover = c.Text(r, "cover"),
            SetOn = c.Date(r, "set_on") ?? transect.SetOn,
            SetAt = c.Time(r, "set_at"),
            Status = c.Token(r, "status") switch { "no_clump" => StationStatus.NoClump, "not_set" => StationStatus.NotSet, "extra" => StationStatus.Extra, _ => StationStatus.Set },
            Eggs = c.Whole(r, "eggs"),
            Flag = c.Position(r, "flag_lat", "flag_lon"),
            At = c.Position(r, "nest_lat", "nest_lon"),
            Source = c.Source(r),
        };
        Enter(nests, (name, number), nest, n => n.Source, "nest", name + ", " + Words.Numbers.Whole(number));
    }

    private List<Segment> Segments()
    {
        var seen = new Dictionary<(string, int, string, int, string), Segment>();
        Each(RecordKind.Belts, (c, r) =>
        {
            var name = c.Text(r, "transect");
            if (!transects.TryGetValue(name, out var transect))
            {
                Stop("no_such_transect", c, r, "transect", Phrase.Of("reading.no_such_transect", ("transect", name)), Phrase.Of("reading.no_such_transect_todo"));
                return;
            }

            var side = c.Token(r, "side");
            var segment = new Segment
            {
                Transect = transect,
                Number = c.Whole(r, "segment") ?? 0,
                Cover = c.Text(r, "cover"),
                Clumps = c.Whole(r, "clumps"),
                Steps = c.Number(r, "steps") ?? transect.StepsBetween,
                StepM = c.Number(r, "step_m") ?? transect.StepM,
                WidthM = c.Number(r, "width_m") ?? c.Number(r, "arm_span_m"),
                Pass = c.Whole(r, "pass") ?? 1,
                IsOneSided = side is "left" or "right",
                IsCounted = c.Token(r, "status") != "not_counted" && c.Whole(r, "clumps") is not null,
                Observer = c.Text(r, "observer"),
                Source = c.Source(r),
            };
            Enter(seen, (name, segment.Number, segment.Cover, segment.Pass, side), segment, s => s.Source, "segment", name + ", " + Words.Numbers.Whole(segment.Number) + ", " + segment.Cover,
                side.Length == 0 && c.Text(r, "pass").Length == 0 ? "reading.duplicate_segment_todo" : "reading.duplicate_todo");
        });
        return [.. seen.Values];
    }

    private List<CrewWalk> Walks()
    {
        var list = new List<CrewWalk>();
        Each(RecordKind.Crew, (c, r) => list.Add(new CrewWalk(c.Text(r, "observer"), c.Number(r, "course_m"), c.Number(r, "steps"), c.Number(r, "arm_span_m"), c.Source(r))));
        return list;
    }

    private List<LandEvent> LandEvents()
    {
        var list = new List<LandEvent>();
        Each(RecordKind.Events, (c, r) => list.Add(new LandEvent(
            c.Text(r, "property"), c.Text(r, "pasture"), c.Text(r, "transect"), c.Date(r, "from"), c.Date(r, "to"), c.Token(r, "kind"), c.Number(r, "amount"), c.Text(r, "unit"), c.Source(r))));
        return list;
    }

    private void Stop(string rule, TableColumns c, RecordRow r, string column, Phrase what, Phrase todo) =>
        problems.Add(new Problem(rule, Severity.Stop, new Place(c.Table.Kind.File, r.Line, column), what, todo));

    /// <summary>
    /// Enters a record under its name. Two rows of one name stop the reading, unless both have ids of their own: then two people made two records, the one with the
    /// smaller id stands whatever order the rows have, and the review says so.
    /// </summary>
    private void Enter<TKey, T>(Dictionary<TKey, T> all, TKey key, T record, Func<T, Source> source, string what, string shown, string todo = "reading.duplicate_todo")
        where TKey : notnull
    {
        if (all.TryAdd(key, record)) return;
        var (first, second) = (source(all[key]), source(record));
        var order = string.CompareOrdinal(second.Text("id"), first.Text("id"));
        if (order == 0 || first.Text("id").Length == 0 || second.Text("id").Length == 0)
        {
            problems.Add(new Problem("duplicate_" + what, Severity.Stop, second.Place(what), Phrase.Of("reading.duplicate", ("what", Phrase.Of("reading.a_" + what)), ("key", shown), ("line", first.Row.Line)), Phrase.Of(todo)));
            return;
        }

        var others = clashes.TryGetValue((what, shown), out var clash) ? clash.Others : [];
        others.Add(order < 0 ? first : second);
        if (order < 0) all[key] = record;
        clashes[(what, shown)] = (order < 0 ? second : first, others);
    }
}
