using System.Buffers;
using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Evidence;
using Tussock.Fieldwork;
using Tussock.Land;
using Tussock.Tests.HouseRules;
using Tussock.Wayfinding;
using Xunit;

namespace Tussock.Tests.Fieldwork;

/// <summary>
/// The cases that bind the phone's own arithmetic, computed by the core: <c>tests/checks/phone-vectors/vectors.json</c>.
/// Run with TUSSOCK_WRITE_EXPECTED=1 it writes the file, otherwise it compares; the phone's modules run each case in a browser.
/// </summary>
public class PhoneVectors
{
    private static readonly JsonWriterOptions Options = new() { Indented = false, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static readonly string[] Written =
        ["N", "nne", "NE", " Ene ", "E", "S", "SSW", "W", "NNW", "0", "360", "11.25", "67.5", "45°", " 45 ° ", "+5", "1e2", "10.1", "123.456", "359.99", "180", "0x10", "1,5", "361", "-1", "", "°", "north", "NaN", "Infinity", "N E", "1e3", "."];

    [Fact]
    public void The_file_holds_what_the_core_computes()
    {
        var made = Made();
        var path = Path.Combine(Checks.Folder("phone-vectors"), "vectors.json");
        if (Environment.GetEnvironmentVariable("TUSSOCK_WRITE_EXPECTED") == "1") File.WriteAllText(path, made);
        Assert.Equal(made, Checkout.Read("tests/checks/phone-vectors/vectors.json").ReplaceLineEndings("\n"));
    }

    private static string Made()
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var w = new Utf8JsonWriter(buffer, Options))
        {
            w.WriteStartObject();
            Rows(w, "points", new[] { 0, 11.2, 11.25, 33.74, 33.75, 45, 90, 101.25, 180, 191.24, 270, 337.5, 348.74, 348.75, 359.99 }, d => { w.WriteNumber("degrees", d); w.WriteString("point", new Direction(d, false).Point); });
            Rows(w, "directions", Written, t => OneDirection(w, t));
            Rows(w, "readings", Readings, r => Reading(w, r));
            Rows(w, "steps", Walks, s => Steps(w, s));
            Rows(w, "ways", Ways, p => Way(w, p));
            Rows(w, "fixes", Fixes, f => Fix(w, f.From, f.To));
            Rows(w, "ends", Ends, e => End(w, e.From, e.Bearing, e.Metres));
            Rows(w, "days", Days, d => { w.WriteString("from", Iso(d.From)); w.WriteString("to", Iso(d.To)); w.WriteNumber("days", d.To.DayNumber - d.From.DayNumber); });
            Rows(w, "checks", SetOut, c => Windows(w, c.On, c.Days, c.Window));
            Rows(w, "penalties", Answers.SelectMany(a => a), a => Penalty(w, a));
            Rows(w, "calibrations", Answers, a => Calibration(w, a));
            w.WriteEndObject();
        }

        // One case a line.
        return Encoding.UTF8.GetString(buffer.WrittenSpan).Replace("[{", "[\n{", StringComparison.Ordinal).Replace("}],\"", "}],\n\"", StringComparison.Ordinal).Replace("]},{", "]},\n{", StringComparison.Ordinal).Replace("},{", "},\n{", StringComparison.Ordinal) + "\n";
    }

    private static IEnumerable<double[]> Readings =>
        [[], [90], [350, 10], [358, 2, 0, 1], [0, 180], [0, 90, 180, 270], [10, 20, 30], [80, 100], [70, 110], [359.9, 0.1], [45, 45, 45], [170, 190, 181.5], [0, 29], [0, 31]];

    private static IEnumerable<(double? CourseM, double? Steps)[]> Walks => [[], [(100, 131)], [(100, 131), (100, 129), (100, 133)], [(78, 100), (60, 80)], [(0, 100), (100, 0), (50, 64)], [(100, 100), (100, 100)]];

    private static IEnumerable<(PacedWay Way, double StepM, double Declination)> Ways
    {
        get
        {
            ImmutableArray<Leg> Of(params ReadOnlySpan<(double Steps, string Direction)> legs) { var all = ImmutableArray.CreateBuilder<Leg>(); foreach (var (steps, direction) in legs) all.Add(new(steps, Direction.Parse(direction)!.Value)); return all.ToImmutable(); }
            foreach (var sense in Enum.GetValues<DirectionSense>())
            {
                yield return (new(Of((17, "NE")), sense, false), 0.78, 5);
                yield return (new(Of((23, "ENE")), sense, true), 0.76, 5);
                yield return (new(Of((12, "N"), (8, "E")), sense, false), 0.75, -11.5);
                yield return (new(Of((30.5, "355"), (4, "190.5")), sense, false), 0.7634, 12);
            }

            yield return (new(Of((1, "N")), DirectionSense.NotWritten, false), 0.75, 0);
            yield return (new(Of((100, "337.5")), DirectionSense.FlagToNest, false), 0.9, 22.5);
        }
    }

    private static readonly (Position From, Position To)[] Fixes =
    [
        (new(31.4512, -99.2034), new(31.4513, -99.2034)), (new(31.4512, -99.2034), new(31.4512, -99.2033)), (new(31.4512, -99.2034), new(31.4490, -99.2075)), (new(27.5, -98), new(27.50638098456123, -97.99284351516678)),
        (new(-41.3, 174.8), new(-41.3005, 174.8004)), (new(60.1, 24.9), new(60.1002, 24.9011)), (new(-16.5, 179.9999), new(-16.5001, -179.9999)), (new(0, 0), new(0.0001, -0.0001)),
    ];

    private static readonly (Position From, double Bearing, double Metres)[] Ends = [(new(31.4512, -99.2034), 72.5, 17.48), (new(31.4512, -99.2034), 230, 13.26), (new(-41.3, 174.8), 0, 500), (new(-16.5, 179.9999), 90, 40), (new(60.1, 24.9), 270, 60)];

    private static readonly (DateOnly From, DateOnly To)[] Days =
        [(new(2026, 5, 4), new(2026, 5, 18)), (new(2026, 5, 4), new(2026, 5, 4)), (new(2026, 5, 4), new(2026, 4, 30)), (new(2026, 3, 1), new(2026, 3, 29)), (new(2026, 10, 20), new(2026, 11, 17)), (new(2028, 2, 14), new(2028, 3, 13)), (new(2026, 12, 18), new(2027, 1, 15))];

    private static readonly (DateOnly On, int[] Days, int Window)[] SetOut = [(new(2026, 5, 4), [14, 28], 3), (new(2028, 2, 16), [14, 28], 0), (new(2026, 12, 20), [7, 14, 21], 2)];

    /// <summary>Beliefs in percents, with the class that it was; on the edges of the bands too.</summary>
    private static readonly (int[] Said, int Truth)[][] Answers =
    [
        [([100, 0, 0], 0), ([100, 0, 0], 1), ([0, 50, 50], 2), ([34, 33, 33], 0)],
        [([20, 40, 40], 1), ([60, 20, 20], 0), ([80, 20, 0], 1), ([81, 19, 0], 0), ([41, 59, 0], 1), ([21, 39, 40], 2)],
        [([10, 10, 10, 10, 10, 10, 10, 30], 7), ([70, 5, 5, 5, 5, 5, 5, 0], 0), ([0, 0, 0, 0, 0, 0, 0, 100], 3)],
    ];

    private static void Penalty(Utf8JsonWriter w, (int[] Said, int Truth) answer)
    {
        Answer(w, answer);
        w.WriteNumber("penalty", Math.Round(50 * Scoring.BrierOf([Chances(answer.Said)], [answer.Truth]), 9));
    }

    private static void Calibration(Utf8JsonWriter w, (int[] Said, int Truth)[] answers)
    {
        Rows(w, "answers", answers, a => Answer(w, a));
        w.WriteNumber("apart", Math.Round(100 * Scoring.CalibrationErrorOf([.. answers.SelectMany(a => Chances(a.Said))], [.. answers.SelectMany(a => a.Said.Select((_, k) => k == a.Truth))], 5), 9));
    }

    private static void Answer(Utf8JsonWriter w, (int[] Said, int Truth) answer)
    {
        Numbers(w, "said", answer.Said.Select(p => (double)p));
        w.WriteNumber("truth", answer.Truth);
    }

    private static ImmutableArray<double> Chances(int[] said) => [.. said.Select(p => p / 100.0)];

    private static void OneDirection(Utf8JsonWriter w, string text)
    {
        var read = Direction.Parse(text);
        w.WriteString("text", text);
        Number(w, "degrees", read?.Degrees);
        w.WriteString("opposite", read is not { } d ? null : d.IsPoint ? d.Back.Point : d.Back.Degrees.ToString("R", CultureInfo.InvariantCulture));
    }

    private static void Reading(Utf8JsonWriter w, double[] readings)
    {
        Numbers(w, "readings", readings);
        var (mean, spread) = CompassReadings.Of(readings);
        Number(w, "mean", Round(mean, 9));
        Number(w, "spread", Round(spread, 6));
    }

    private static void Steps(Utf8JsonWriter w, (double? CourseM, double? Steps)[] walks)
    {
        Rows(w, "walks", walks, s => { Number(w, "course_m", s.CourseM); Number(w, "steps", s.Steps); });
        var step = StepLength.Measured(walks);
        Number(w, "step", Round(step?.Metres, 12));
        Number(w, "spread", Round(step?.SdM, 12));
        w.WriteNumber("count", step?.Walks ?? 0);
    }

    private static void Way(Utf8JsonWriter w, (PacedWay Way, double StepM, double Declination) of)
    {
        static string Sense(DirectionSense sense) => sense switch { DirectionSense.FlagToNest => "flag_to_nest", DirectionSense.NestToFlag => "nest_to_flag", _ => "" };
        void Legs(ImmutableArray<Leg> legs) => Rows(w, "legs", legs, l => { w.WriteNumber("steps", l.Steps); w.WriteString("direction", l.Direction.IsPoint ? l.Direction.Point : l.Direction.Degrees.ToString("R", CultureInfo.InvariantCulture)); });
        Legs(of.Way.Legs);
        w.WriteString("sense", Sense(of.Way.Sense));
        w.WriteBoolean("is_magnetic", !of.Way.IsTrueNorth);
        w.WriteNumber("step", of.StepM);
        w.WriteNumber("declination", of.Declination);
        Rows(w, "places", DeadReckoning.Places(of.Way, of.StepM, of.Declination), p =>
        {
            w.WriteString("sense", Sense(p.Sense));
            Legs(p.Legs);
            w.WriteNumber("distance", Math.Round(p.Way.DistanceM, 9));
            w.WriteNumber("bearing", Math.Round(p.Way.BearingTrueDeg, 9));
            w.WriteString("point", new Direction(p.Way.BearingTrueDeg, false).Point);
        });
    }

    private static void Fix(Utf8JsonWriter w, Position from, Position to)
    {
        var line = Geodesic.Between(from, to);
        Place(w, "from", from);
        Place(w, "to", to);
        w.WriteNumber("distance", Math.Round(line.DistanceM, 4));
        w.WriteNumber("bearing", Math.Round(line.BearingFromDeg, 3));
    }

    private static void End(Utf8JsonWriter w, Position from, double bearing, double metres)
    {
        Place(w, "from", from);
        w.WriteNumber("bearing", bearing);
        w.WriteNumber("metres", metres);
        Place(w, "to", Geodesic.Direct(from, bearing, metres).To);
    }

    private static void Windows(Utf8JsonWriter w, DateOnly on, int[] days, int window)
    {
        w.WriteString("set_on", Iso(on));
        Numbers(w, "days", days.Select(d => (double)d));
        w.WriteNumber("window", window);
        Rows(w, "checks", days.Select(d => CheckWindow.Of(on, d, window)), c => { w.WriteNumber("day", c.Day); w.WriteString("on", Iso(c.On)); w.WriteString("from", Iso(c.From)); w.WriteString("to", Iso(c.To)); });
    }

    private static void Place(Utf8JsonWriter w, string name, Position at)
    {
        w.WriteStartObject(name);
        w.WriteNumber("lat", Math.Round(at.Latitude, 9));
        w.WriteNumber("lon", Math.Round(at.Longitude, 9));
        w.WriteEndObject();
    }

    private static void Rows<T>(Utf8JsonWriter w, string name, IEnumerable<T> rows, Action<T> write)
    {
        w.WriteStartArray(name);
        foreach (var row in rows)
        {
            w.WriteStartObject();
            write(row);
            w.WriteEndObject();
        }

        w.WriteEndArray();
    }

    private static void Numbers(Utf8JsonWriter w, string name, IEnumerable<double> numbers)
    {
        w.WriteStartArray(name);
        foreach (var n in numbers) w.WriteNumberValue(n);
        w.WriteEndArray();
    }

    private static void Number(Utf8JsonWriter w, string name, double? number)
    {
        if (number is { } x) w.WriteNumber(name, x);
        else w.WriteNull(name);
    }

    private static double? Round(double? x, int decimals) => x is { } n ? Math.Round(n, decimals) : null;

    private static string Iso(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
