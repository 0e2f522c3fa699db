using System.Globalization;
using System.Text;
using Tussock.Exchange.SeasonFolder;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Exchange;

/// <summary>
/// Small folders changed at random: the reader never throws, never hangs, and has a sentence for everything.
/// TUSSOCK_FUZZ=n makes n changes instead of 500 (0 = without end); TUSSOCK_FUZZ_SEED begins elsewhere.
/// </summary>
public sealed class SeasonFolderFuzzTests : IDisposable
{
    private static readonly string[] Bits = ["\"", "\"\"", ",", "\n", "\r", "\r\n", ";", "\t", "\0", "\uFEFF", "-", "..", "/", "\\", "{", "}", "[", "]", "null", "1e999", "0x1F", "９", "\\ud800", "\\u0000", "resources", "season", "T1", "NaN", "2024-02-30", "99999999999", "-1", "  "];
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    [Fact]
    public void A_folder_changed_at_random_is_read_or_refused_in_sentences()
    {
        var count = Setting("TUSSOCK_FUZZ", 500);
        var seed = Setting("TUSSOCK_FUZZ_SEED", 1);
        var names = Corpus.Names("broken").ToList();
        for (var i = 0; count == 0 || i < count; i++, seed++)
        {
            var random = new Random(seed);
            var folder = scratch.Copy(Path.Combine(Corpus.Folder("broken/" + names[random.Next(names.Count)]), "season"), "f" + i.ToString(CultureInfo.InvariantCulture));
            var files = Directory.GetFiles(folder).Order(StringComparer.Ordinal).ToArray();
            for (var n = random.Next(1, 5); n > 0; n--) Change(files[random.Next(files.Length)], random);
            Read(folder, seed);
            Directory.Delete(folder, true);
        }
    }

    private static void Read(string folder, int seed)
    {
        using var late = new CancellationTokenSource(TimeSpan.FromSeconds(20));
        try
        {
            var (season, problems) = SeasonFolderReader.ReadSeason(folder, late.Token);
            Assert.Equal(season is null, problems.Any(p => p.Severity == Severity.Stop));
            foreach (var problem in problems) Assert.NotEmpty(Catalogue.English.Say(problem.What) + Catalogue.English.Say(problem.ToDo));
        }
        catch (Exception wrong)
        {
            throw new InvalidOperationException("Seed " + seed.ToString(CultureInfo.InvariantCulture), wrong);
        }
    }

    private static void Change(string file, Random random)
    {
        var bytes = File.ReadAllBytes(file);
        var at = random.Next(bytes.Length + 1);
        var to = Math.Min(bytes.Length, at + random.Next(1, 40));
        var other = random.Next(bytes.Length + 1);
        byte[] changed = random.Next(7) switch
        {
            0 => bytes[..at],
            1 => [.. bytes[..at], .. bytes[to..]],
            2 => [.. bytes[..at], .. Encoding.UTF8.GetBytes(Bits[random.Next(Bits.Length)]), .. bytes[at..]],
            3 => [.. bytes[..at], .. bytes[at..to], .. bytes[at..to], .. bytes[to..]],
            4 => [.. bytes[..at], (byte)random.Next(256), .. bytes[to..]],
            5 => [.. bytes[..other], .. bytes[at..to], .. bytes[other..]],
            _ => [.. bytes[..at], .. Encoding.UTF8.GetBytes(Bits[random.Next(Bits.Length)]), .. bytes[to..]],
        };
        File.WriteAllBytes(file, changed);
    }

    private static int Setting(string name, int usual) => int.TryParse(Environment.GetEnvironmentVariable(name), CultureInfo.InvariantCulture, out var n) ? n : usual;
}
