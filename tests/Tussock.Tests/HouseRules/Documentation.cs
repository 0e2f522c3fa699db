using System.Reflection;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>Every number names where its formula stands and what it was compared with.</summary>
public partial class Documentation
{
    private static readonly string[] Floors = ["Fates", "Survival", "Evidence", "Models", "Cover", "Verdicts", "Wayfinding", "Power"];

    /// <summary>Public static methods that estimate nothing: they only read, count, look up or choose words.</summary>
    private static readonly string[] EstimateNothing = 
    [
        "Tussock.Evidence.SignCatalogue.Parse", "Tussock.Verdicts.DensitySide.From", "Tussock.Models.ModelFrame.Of", "Tussock.Models.ModelNests.Of", "Tussock.Models.NestWatch.Of",
        "Tussock.Models.Pattern.Read", "Tussock.Models.PatternDays.Until", "Tussock.Models.PredictedNest.Of", "Tussock.Models.SpanTable.Of",
    ];

    private static readonly Lazy<Dictionary<string, XElement[]>> Members = new(() =>
        XDocument.Load(Path.Combine(AppContext.BaseDirectory, "Tussock.xml")).Descendants("member")
            .GroupBy(m => ((string)m.Attribute("name")!).Split('(')[0]).ToDictionary(g => Generic().Replace(g.Key, ""), g => g.ToArray(), StringComparer.Ordinal));

    public static TheoryData<string> Estimators => [.. typeof(Phrase).Assembly.GetExportedTypes()
        .Where(t => Floors.Contains(t.Namespace!.Split('.').Last()))
        .SelectMany(t => t.GetMethods(BindingFlags.Public | BindingFlags.Static | BindingFlags.DeclaredOnly))
        .Where(m => !m.IsSpecialName && HoldsANumber(m.ReturnType, 0)).Select(Name).Except(EstimateNothing).Distinct().Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Estimators))]
    public void An_estimator_names_its_source_and_its_check(string method)
    {
        var own = Members.Value["M:" + method];
        var type = Members.Value["T:" + method[..method.LastIndexOf('.')]];
        foreach (var member in own)
        {
            Assert.True(member.Element("source") is not null || type[0].Element("source") is not null, method + " lacks <source>");
            Assert.True(member.Element("check") is not null || type[0].Element("check") is not null, method + " lacks <check>");
        }
    }

    [Fact]
    public void A_named_check_is_a_folder_that_says_where_it_comes_from()
    {
        var named = Members.Value.SelectMany(m => m.Value.SelectMany(e => e.Elements("check").Select(c => (Member: m.Key, Folder: c.Value))));
        Assert.All(named, c => Assert.True(File.Exists(Path.Combine(Checks.Folder(c.Folder), "source.md")), c.Member + " names the check " + c.Folder));
    }

    [Fact]
    public void A_source_says_something_and_every_folder_of_checks_has_one()
    {
        Assert.All(Members.Value.SelectMany(m => m.Value.SelectMany(e => e.Elements("source"))), s => Assert.True(s.Value.Trim().Length > 20, s.ToString()));
        Assert.All(Directory.GetDirectories(Checks.Folder(".")), f => Assert.True(File.Exists(Path.Combine(f, "source.md")), f));
    }

    private static string Name(MethodInfo method) => (method.DeclaringType!.FullName! + "." + method.Name).Replace('+', '.');

    /// <summary>A number, an answer or an estimate, or something made of them.</summary>
    private static bool HoldsANumber(Type type, int depth)
    {
        if (type == typeof(double) || type == typeof(Estimate) || (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(Answer<>))) return true;
        if (depth > 1) return false;
        if (type.IsArray) return HoldsANumber(type.GetElementType()!, depth);
        if (type.IsGenericType) return type.GetGenericArguments().Any(a => HoldsANumber(a, depth));
        return type.Assembly == typeof(Phrase).Assembly && !type.IsEnum && type.Namespace is { } space && Floors.Contains(space.Split('.').Last())
            && type.GetProperties(BindingFlags.Public | BindingFlags.Instance).Any(p => HoldsANumber(p.PropertyType, depth + 1));
    }

    [GeneratedRegex("`+[0-9]+")]
    private static partial Regex Generic();
}
