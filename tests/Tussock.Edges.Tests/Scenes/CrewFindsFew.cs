using System.Globalization;
using Tussock.Edges.Tests.Commands;
using Xunit;

namespace Tussock.Edges.Tests.Scenes;

/// <summary>Six lines of eight; on day 28 crew 1 can't find 1 of its 24 nests, crew 2 can't find 7 of its 24.</summary>
public sealed class CrewFindsFew : IDisposable
{
    private static readonly (string Line, int Nest)[] CrewTwo = [("4", 1), ("4", 5), ("5", 2), ("5", 3), ("5", 8), ("6", 4), ("6", 6)];
    private readonly SceneFolder scene = new("washer");

    public CrewFindsFew()
    {
        var lines = Enumerable.Range(1, 6).Select(n => n.ToString(CultureInfo.InvariantCulture)).ToArray();
        var nests = lines.SelectMany(l => Enumerable.Range(1, 8).Select(n => (Line: l, Nest: n))).ToArray();
        Write("transects.csv", "property,pasture,transect,set_on", lines.Select(l => $"Two Windmills,South,{l},2024-05-06"));
        Write("nests.csv", "transect,nest,cover,eggs", nests.Select(n => $"{n.Line},{n.Nest},bunchgrass,3"));
        Write("remains.csv", "transect,nest,visited_on,sign,value", []);
        Write("visits.csv", "transect,nest,visited_on,finding,observer,not_found_because", nests.Select(n => $"{n.Line},{n.Nest},2024-06-03,{(IsLostFromSight(n) ? "not_relocated" : n.Nest % 2 == 0 ? "intact" : "depredated")},{Crew(n.Line)},{(IsLostFromSight(n) ? "searched_all" : "")}"));
    }

    public void Dispose() => scene.Dispose();

    [Fact]
    public void The_worklist_puts_the_crew_first_with_the_day_until_which_a_second_search_counts()
    {
        var findings = Typed.Findings(scene.Folder, "--today", "2024-06-04");

        Assert.Equal("observer_finds_few", findings.First(f => f.Text("severity") != "contradiction").Text("rule"));
        Assert.DoesNotContain(findings, f => f.Text("severity") == "contradiction");
        var first = findings[0].Text("what") + " " + findings[0].Text("to_do");
        foreach (var part in new[] { "crew 2", "7", "24", "day 31" }) Assert.Contains(part, first, StringComparison.Ordinal);
    }

    [Fact]
    public void After_the_second_search_the_answer_says_from_where_to_where_it_moved()
    {
        Typed.Done("import", scene.DataFile, scene.Folder);
        string[] second = ["intact", "intact", "depredated", "depredated", "depredated", "depredated", "not_relocated"];
        scene.Add("visits.csv", [.. CrewTwo.Zip(second, (n, finding) => $"{n.Line},{n.Nest},2024-06-05,{finding},crew 1,{(finding == "not_relocated" ? "searched_all" : "")}")]);

        var said = Typed.Done("import", scene.DataFile, scene.Folder).Out;

        // 48 nests; 8 not found at first. Even numbers were whole: of the 40 found that is 24 less the even ones not found.
        Assert.Contains("survival was 20 of 40 = 50 %, is now 22 of 46 = 48 %", said, StringComparison.Ordinal);
        Assert.Contains("nests of unknown fate were 8, are now 2", said, StringComparison.Ordinal);
        Assert.Contains("Nothing to do", Typed.Done("import", scene.DataFile, scene.Folder).Out, StringComparison.Ordinal);
    }

    private static string Crew(string line) => string.CompareOrdinal(line, "3") <= 0 ? "crew 1" : "crew 2";

    private static bool IsLostFromSight((string Line, int Nest) nest) => nest == ("1", 1) || CrewTwo.Contains(nest);

    private void Write(string file, string head, IEnumerable<string> rows) => File.WriteAllText(Path.Combine(scene.Folder, file), string.Join('\n', rows.Prepend(head)) + "\n");
}
