using System.Globalization;
using System.IO.Compression;
using System.Text;
using Tussock.Edges.Tests.Commands;
using Tussock.Exchange.Archive;
using Tussock.Exchange.Reading;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Archives;

/// <summary>A broken archive is refused in sentences that say where and what to do, and the data file is not touched.</summary>
/// <remarks>TUSSOCK_FUZZ=n makes n changes instead of 150 (0 = without end); TUSSOCK_FUZZ_SEED begins elsewhere.</remarks>
public sealed class BrokenArchiveTests : IDisposable
{
    private static readonly string[] Bits = ["\"", ",", "\n", ";", "\0", "..", "{", "}", "[", "]", "null", "season", "coarsened", "1e999", "\\ud800", "tables/", "-1", "<", "&", "]]>"];
    private readonly MadeArchive made = new();

    public BrokenArchiveTests() => made.Holding(MadeArchive.Small(MadeArchive.Invented(1, "home", "2026")));

    public void Dispose() => made.Dispose();

    [Theory]
    [InlineData("meta.xml", "The file meta.xml is missing")]
    [InlineData("datapackage.json", "The description datapackage.json is missing")]
    [InlineData("tables/nests.csv", "tables/nests.csv: The file tables/nests.csv is missing")]
    [InlineData("tables/belts.csv", "resources[")]
    [InlineData("event.csv", "meta.xml:")]
    [InlineData("eml.xml", "meta.xml:")]
    public void A_file_that_is_missing_is_told(string file, string told) => Refused(folder => File.Delete(Path.Combine(folder, file)), told);

    [Theory]
    [InlineData("tables/visits.csv", ",intact,", ",well,", "tables/visits.csv:2 finding")]
    [InlineData("tables/visits.csv", "season,transect,nest", "season,line,nest", "column transect is missing")]
    [InlineData("tables/nests.csv", "season,transect", "year,transect", "tables/nests.csv:1 season: The column season is missing")]
    [InlineData("tables/nests.csv", "2026, coarsened", "2027", "tables/nests.csv:2 season: The row is of the season “2027”")]
    [InlineData("tables/transects.csv", ",property 1,", ",property 9,", "tables/transects.csv:2 pasture")]
    [InlineData("tables/visits.csv", "season,", "season;", "tables/visits.csv:")]
    [InlineData("datapackage.json", "\"version\": 1", "\"version\": 7", "expected version 1")]
    [InlineData("datapackage.json", "simulated_nests_archive", "somebody_s_archive", "found no archive that this program wrote")]
    [InlineData("datapackage.json", "\"seasons\"", "\"winters\"", "no list of seasons")]
    [InlineData("datapackage.json", "\"trial_days\": 28", "\"trial_days\": \"long\"", "trial_days")]
    [InlineData("datapackage.json", "tables/belts.csv", "../../belts.csv", "leads out of the archive")]
    [InlineData("datapackage.json", "\"resources\"", "\"resources\": [", "datapackage.json:")]
    [InlineData("meta.xml", "event.csv", "../event.csv", "leads out of the archive")]
    [InlineData("meta.xml", "<archive", "<!DOCTYPE a [<!ENTITY x 'y'>]><archive", "document type")]
    [InlineData("meta.xml", "archive", "collection", "expected archive")]
    public void A_row_a_column_or_a_description_that_is_wrong_is_told_with_its_place(string file, string from, string to, string told) => Refused(
        folder =>
        {
            var path = Path.Combine(folder, file);
            var text = File.ReadAllText(path);
            Assert.Contains(from, text, StringComparison.Ordinal);
            File.WriteAllText(path, text.Replace(from, to, StringComparison.Ordinal));
        }, told);

    [Fact]
    public void All_that_is_wrong_is_told_at_once()
    {
        var folder = made.Written();
        File.Delete(Path.Combine(folder, "tables", "belts.csv"));
        var visits = Path.Combine(folder, "tables", "visits.csv");
        File.WriteAllText(visits, File.ReadAllText(visits).Replace(",intact,", ",well,", StringComparison.Ordinal));

        var told = Typed.Run("import", made.At("new.db"), folder).Err;
        Assert.Contains("tables/belts.csv", told, StringComparison.Ordinal);
        Assert.Contains("tables/visits.csv:2 finding", told, StringComparison.Ordinal);
    }

    [Fact]
    public void A_zip_that_leads_out_writes_nothing_anywhere()
    {
        var zip = made.Written("slip.zip");
        using (var open = ZipFile.Open(zip, ZipArchiveMode.Update)) using (var entry = new StreamWriter(open.CreateEntry("../../slipped.txt").Open())) entry.Write("out");

        Refused(zip, "leads out of the archive");
        Assert.False(File.Exists(Path.Combine(Path.GetDirectoryName(made.At("x"))!, "..", "..", "slipped.txt")));
    }

    [Fact]
    public void A_zip_that_is_cut_off_or_too_big_is_told()
    {
        var zip = made.Written("cut.zip");
        File.WriteAllBytes(zip, File.ReadAllBytes(zip)[..5000]);
        var run = Typed.Run("import", made.At("new.db"), zip);
        Assert.Equal((1, false), (run.Exit, File.Exists(made.At("new.db"))));
        Assert.NotEmpty(run.Err);

        var whole = made.Written("whole.zip");
        var reading = ArchiveReader.Read(whole, CsvLimits.Usual with { FileBytes = 2000, GlanceBytes = 1000 }, TestContext.Current.CancellationToken);
        Assert.Empty(reading.Seasons);
        Assert.Contains(reading.Problems, p => p.Rule == "file_too_long" && p.Place.File == "tables/visits.csv");
        Assert.Contains(ArchiveReader.Read(whole, CsvLimits.Usual with { Rows = 5 }, TestContext.Current.CancellationToken).Problems, p => p.Rule == "too_many_rows");
    }

    [Fact]
    public void An_archive_changed_at_random_is_read_or_refused_in_sentences()
    {
        var count = Setting("TUSSOCK_FUZZ", 150);
        var seed = Setting("TUSSOCK_FUZZ_SEED", 1);
        var whole = made.Written();
        var files = Directory.GetFiles(whole, "*", SearchOption.AllDirectories).Where(f => Path.GetFileName(f) is not ("README.md" or "eml.xml" or "measurement.csv" or "event.csv")).Order(StringComparer.Ordinal).ToArray();
        for (var i = 0; count == 0 || i < count; i++, seed++)
        {
            var random = new Random(seed);
            var file = files[random.Next(files.Length)];
            var before = File.ReadAllBytes(file);
            var changed = before.ToList();
            for (var n = random.Next(1, 4); n > 0; n--)
            {
                var at = random.Next(changed.Count + 1);
                var less = Math.Min(changed.Count - at, random.Next(30));
                if (random.Next(2) == 0) changed.RemoveRange(at, less);
                if (random.Next(2) == 0) changed.InsertRange(at, Encoding.UTF8.GetBytes(Bits[random.Next(Bits.Length)]));
            }

            File.WriteAllBytes(file, [.. changed]);
            try
            {
                Assert.True(ArchiveReader.Is(whole));
                var reading = ArchiveReader.Read(whole, TestContext.Current.CancellationToken);
                Assert.Equal(reading.Seasons.IsEmpty, reading.Problems.Any(p => p.Severity == Severity.Stop));
                foreach (var problem in reading.Problems) Assert.NotEmpty(Catalogue.English.Say(problem.What) + Catalogue.English.Say(problem.ToDo));
            }
            catch (Exception wrong)
            {
                throw new InvalidOperationException("Seed " + seed.ToString(CultureInfo.InvariantCulture) + ", " + Path.GetFileName(file), wrong);
            }

            File.WriteAllBytes(file, before);
        }
    }

    private void Refused(Action<string> damage, string told)
    {
        var folder = made.Written();
        damage(folder);
        Refused(folder, told);
        var zip = made.At("again.zip");
        ZipFile.CreateFromDirectory(folder, zip);
        Refused(zip, told);
    }

    /// <summary>Refused into a new data file, which is not made, and into one with seasons, of which no byte changes.</summary>
    private void Refused(string archive, string told)
    {
        var before = File.ReadAllBytes(made.Home);
        var (fresh, there) = (Typed.Run("import", made.At("new.db"), archive), Typed.Run("import", made.Home, archive, "--apply"));

        Assert.Equal((1, 1), (fresh.Exit, there.Exit));
        Assert.Contains(told, fresh.Err, StringComparison.Ordinal);
        Assert.False(File.Exists(made.At("new.db")));
        Assert.Equal(before, File.ReadAllBytes(made.Home));
    }

    private static int Setting(string name, int usual) => int.TryParse(Environment.GetEnvironmentVariable(name), CultureInfo.InvariantCulture, out var n) ? n : usual;
}
