using System.Globalization;
using Tussock.Edges.Tests.Commands;
using Xunit;

namespace Tussock.Edges.Tests.Workbook;

/// <summary>A newcomer fills a template cell by cell; the same season typed into a folder says the same.</summary>
public sealed class NewcomerStories : IDisposable
{
    private static readonly DateOnly SetOn = new(2026, 5, 11);
    private readonly string folder = Directory.CreateTempSubdirectory("tussock-workbook-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_planned_season_filled_in_a_spreadsheet_equals_the_season_typed_into_the_folder()
    {
        var planned = Season("planned", isPlanned: true);
        var typed = Season("typed", isPlanned: false);
        var data = Path.Combine(folder, "season.tussock");
        Typed.Done("import", data, planned);
        var book = Path.Combine(folder, "book.xlsx");
        Typed.Done("sheets", data, "--workbook", book);

        using (var filled = new FilledBySomebody(book))
        {
            uint row = 2;
            foreach (var line in new[] { "A", "B" }) filled.Write("transects", row++, "set_on", SetOn);
            var visits = filled.Rows("visits");
            Assert.Equal(16, visits.Count);
            foreach (var (number, cells) in visits)
            {
                var day = cells["(check)"] == "day 14" ? 14 : 28;
                if (Finding(cells["transect"], int.Parse(cells["nest"], CultureInfo.InvariantCulture), day) is not { } finding) continue;
                filled.Write("visits", number, "visited_on", SetOn.AddDays(day));
                filled.Write("visits", number, "visited_at", new TimeOnly(8, 35));
                filled.Write("visits", number, "finding", finding == "not_relocated" ? " Not relocated" : finding);
                if (finding == "intact") filled.Write("visits", number, "eggs_intact", 3);
            }

            foreach (var (number, cells) in filled.Rows("belts"))
            {
                filled.Write("belts", number, "steps", "50");
                filled.Write("belts", number, "step_m", 0.75);
                filled.Write("belts", number, "arm_span_m", 1.8);
                filled.Write("belts", number, "clumps", Clumps(int.Parse(cells["segment"], CultureInfo.InvariantCulture), cells["cover"]));
            }

            filled.Write("remains", 2, "transect", "A");
            filled.Write("remains", 2, "nest", 2);
            filled.Write("remains", 2, "visited_on", "2026-05-25");
            filled.Write("remains", 2, "sign", "shell_present");
            filled.Write("remains", 2, "value", "no");
        }

        var asked = Typed.Run("import", data, book);
        Assert.Equal(1, asked.Exit);
        Assert.Contains("--apply", asked.Err, StringComparison.Ordinal);
        Typed.Done("import", data, book, "--preview");
        Typed.Done("import", data, book, "--apply");

        Assert.Equal(Typed.ResultsText(typed), Typed.ResultsText(data));
        Assert.Contains("Nothing to do", Typed.Done("import", data, book).Out, StringComparison.Ordinal);
        var next = Path.Combine(folder, "next.xlsx");
        Typed.Done("sheets", data, "--workbook", next);
        using var again = new FilledBySomebody(next);
        Assert.Equal(0, again.Rows("visits").Count(r => r.Cells.ContainsKey("(check)") && r.Cells["transect"] == "A" && r.Cells["nest"] == "2"));
    }

    [Fact]
    public void An_empty_template_filled_from_nothing_is_a_season()
    {
        var book = Path.Combine(folder, "book.xlsx");
        Typed.Done("sheets", "new", "--workbook", book);
        using (var filled = new FilledBySomebody(book))
        {
            foreach (var (number, cells) in filled.Rows("season"))
            {
                if (cells["setting"] == "name") filled.Write("season", number, "value", "typed");
                if (cells["setting"] == "title") filled.Write("season", number, "value", "Typed");
                if (cells["setting"] == "cover_classes") filled.Write("season", number, "value", "bunchgrass (grass), cactus (other)");
            }

            filled.Write("pastures", 2, "property", "Two Windmills");
            filled.Write("pastures", 2, "pasture", "South");
            uint line = 2, nest = 2, visit = 2, belt = 2;
            foreach (var name in new[] { "A", "B" })
            {
                filled.Write("transects", line, "property", "Two Windmills");
                filled.Write("transects", line, "pasture", "South");
                filled.Write("transects", line, "transect", name);
                filled.Write("transects", line++, "set_on", SetOn);
                for (var n = 1; n <= 4; n++)
                {
                    filled.Write("nests", nest, "transect", name);
                    filled.Write("nests", nest, "nest", n);
                    filled.Write("nests", nest++, "cover", n % 2 == 1 ? "bunchgrass" : "cactus");
                    foreach (var cover in new[] { "bunchgrass", "cactus" })
                    {
                        filled.Write("belts", belt, "transect", name);
                        filled.Write("belts", belt, "segment", n);
                        filled.Write("belts", belt, "cover", cover);
                        filled.Write("belts", belt, "steps", 50);
                        filled.Write("belts", belt, "step_m", 0.75);
                        filled.Write("belts", belt, "arm_span_m", 1.8);
                        filled.Write("belts", belt++, "clumps", Clumps(n, cover));
                    }

                    foreach (var day in new[] { 14, 28 })
                    {
                        if (Finding(name, n, day) is not { } finding) continue;
                        filled.Write("visits", visit, "transect", name);
                        filled.Write("visits", visit, "nest", n);
                        filled.Write("visits", visit, "visited_on", SetOn.AddDays(day));
                        filled.Write("visits", visit, "visited_at", new TimeOnly(8, 35));
                        filled.Write("visits", visit, "finding", finding);
                        if (finding == "intact") filled.Write("visits", visit, "eggs_intact", 3);
                        visit++;
                    }
                }
            }

            filled.Write("remains", 2, "transect", "A");
            filled.Write("remains", 2, "nest", 2);
            filled.Write("remains", 2, "visited_on", new DateOnly(2026, 5, 25));
            filled.Write("remains", 2, "sign", "Shell present");
            filled.Write("remains", 2, "value", "no");
        }

        var data = Path.Combine(folder, "season.tussock");
        Typed.Done("import", data, book);

        Assert.Equal(Typed.ResultsText(Season("typed", isPlanned: false)), Typed.ResultsText(data));
    }

    private static string? Finding(string line, int nest, int day) => (line, nest, day) switch
    {
        ("A", 2, 14) => "depredated",
        ("A", 2, 28) => null,
        ("B", 3, 28) => "not_relocated",
        ("B", 4, 28) => "other_loss",
        _ => "intact",
    };

    private static int Clumps(int segment, string cover) => cover == "cactus" ? segment % 2 : 2 + segment;

    /// <summary>The same season as a folder, planned or with everything typed.</summary>
    private string Season(string name, bool isPlanned)
    {
        var path = Path.Combine(folder, name);
        Directory.CreateDirectory(path);
        void Put(string file, params IEnumerable<string> lines) => File.WriteAllText(Path.Combine(path, file), string.Join('\n', lines) + "\n");
        Put("datapackage.json", """{ "title": "Typed", "season": { "name": "typed", "trial_days": 28, "check_days": [14, 28], "cover_classes": [{"name":"bunchgrass","role":"grass"},{"name":"cactus","role":"other"}] } }""");
        Put("pastures.csv", "property,pasture", "Two Windmills,South");
        string[] lines = ["A", "B"];
        Put("transects.csv", ["property,pasture,transect,set_on", .. lines.Select(l => "Two Windmills,South," + l + "," + (isPlanned ? "" : "2026-05-11"))]);
        Put("nests.csv", ["transect,nest,cover", .. from l in lines from n in Enumerable.Range(1, 4) select $"{l},{n},{(n % 2 == 1 ? "bunchgrass" : "cactus")}"]);
        Put("visits.csv", ["transect,nest,visited_on,visited_at,finding,eggs_intact", .. isPlanned ? [] : from l in lines from n in Enumerable.Range(1, 4) from d in new[] { 14, 28 } let f = Finding(l, n, d) where f is not null select $"{l},{n},{SetOn.AddDays(d):yyyy-MM-dd},08:35,{f},{(f == "intact" ? "3" : "")}"]);
        if (isPlanned) return path;
        Put("belts.csv", ["transect,segment,steps,step_m,arm_span_m,cover,clumps", .. from l in lines from n in Enumerable.Range(1, 4) from c in new[] { "bunchgrass", "cactus" } select $"{l},{n},50,0.75,1.8,{c},{Clumps(n, c)}"]);
        Put("remains.csv", "transect,nest,visited_on,sign,value", "A,2,2026-05-25,shell_present,no");
        return path;
    }
}
