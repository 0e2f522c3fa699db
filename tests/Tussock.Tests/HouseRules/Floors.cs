using NetArchTest.Rules;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>The core is a stack of floors: a folder may use those below it and none above.</summary>
public class Floors
{
    /// <summary>Each floor with what it may use besides the ground and the root; a floor stands below those that use it.</summary>
    private static readonly (string Floor, string[] MayUse)[] Table =
    [
        ("Measures", []),
        ("Words", ["Measures"]),
        ("Numerics", []),
        ("Land", ["Measures"]),
        ("Records", ["Land"]),
        ("Layout", ["Land", "Records"]),
        ("Provisions", ["Records"]),
        ("Journal", ["Records"]),
        ("Wayfinding", ["Land", "Records"]),
        ("Fates", ["Records"]),
        ("Review", ["Land", "Records", "Fates"]),
        ("Survival", ["Records", "Fates"]),
        ("Evidence", ["Records", "Fates"]),
        ("Models", ["Records", "Fates", "Survival"]),
        ("Cover", ["Records", "Fates", "Survival", "Models"]),
        ("Verdicts", ["Records", "Fates", "Survival", "Cover"]),
        ("Results", ["Land", "Records", "Fates", "Review", "Survival", "Evidence", "Models", "Cover", "Verdicts"]),
        ("Years", ["Records", "Fates", "Survival", "Evidence", "Cover", "Verdicts", "Results"]),
        ("Actions", ["Land", "Records", "Fates", "Survival", "Models", "Cover", "Results"]),
        ("Simulation", ["Land", "Records", "Fates", "Survival", "Evidence", "Models", "Cover"]),
        ("Pictures", ["Land", "Records", "Layout", "Fates", "Survival", "Evidence", "Models", "Cover", "Verdicts", "Results", "Years", "Actions"]),
        ("Planning", ["Land", "Records", "Fates", "Review", "Survival", "Evidence", "Models", "Cover", "Verdicts", "Results", "Simulation"]),
        ("Fieldwork", ["Land", "Records", "Journal", "Wayfinding", "Fates", "Evidence", "Pictures"]),
        ("Workdays", ["Land", "Records", "Fieldwork"]),
    ];

    private static readonly string[] Ground = ["Measures", "Numerics", "Words"];

    public static TheoryData<string> Names => [.. Table.Select(f => f.Floor)];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_floor_uses_only_floors_below_it(string floor)
    {
        var mayUse = Table.Single(f => f.Floor == floor).MayUse.Append(floor).Concat(Ground.Contains(floor) ? [] : Ground).ToArray();
        var others = Table.Select(f => f.Floor).Except(mayUse).Select(f => "Tussock." + f).ToArray();
        var result = Types.InAssembly(typeof(Phrase).Assembly).That().ResideInNamespace("Tussock." + floor).ShouldNot().HaveDependencyOnAny(others).GetResult();
        Assert.True(result.IsSuccessful, string.Join("\n", result.FailingTypes.Select(t => t.FullName + " " + t.Explanation)));
    }

    [Fact]
    public void The_root_uses_no_floor_but_Words()
    {
        var others = Table.Select(f => f.Floor).Where(f => f != "Words").Select(f => "Tussock." + f).ToArray();
        var result = Types.InAssembly(typeof(Phrase).Assembly).That().ResideInNamespaceMatching("^Tussock$").ShouldNot().HaveDependencyOnAny(others).GetResult();
        Assert.True(result.IsSuccessful, string.Join("\n", result.FailingTypes.Select(t => t.FullName + " " + t.Explanation)));
    }

    [Fact]
    public void The_table_is_a_stack_and_names_every_floor()
    {
        for (var i = 0; i < Table.Length; i++) Assert.All(Table[i].MayUse, below => Assert.Contains(below, Table.Take(i).Select(f => f.Floor)));
        var folders = Checkout.Sources.Where(f => f.StartsWith("src/Tussock/", StringComparison.Ordinal)).Select(f => f.Split('/')).Where(p => p.Length > 3).Select(p => p[2]).Distinct();
        Assert.Equal(folders.Order(StringComparer.Ordinal), Table.Select(f => f.Floor).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("Tussock", "")]
    [InlineData("Tussock.Exchange", "Tussock")]
    [InlineData("Tussock.Store", "Tussock")]
    [InlineData("Tussock.Reports", "Tussock")]
    [InlineData("Tussock.Field", "")]
    [InlineData("Tussock.Desk", "Tussock Tussock.Reports")]
    [InlineData("Tussock.App", "Tussock Tussock.Exchange Tussock.Store Tussock.Reports Tussock.Field Tussock.Desk")]
    public void A_project_references_only_what_it_may(string project, string mayReference)
    {
        var text = Checkout.Read($"src/{project}/{project}.csproj");
        var references = System.Text.RegularExpressions.Regex.Matches(text, "ProjectReference Include=\"[^\"]*?(?<it>[A-Za-z.]+)\\.csproj\"").Select(m => m.Groups["it"].Value);
        Checkout.None(references.Except(mayReference.Split(' ')));
    }
}
