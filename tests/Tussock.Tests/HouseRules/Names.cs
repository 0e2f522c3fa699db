using System.Text.RegularExpressions;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>Names say what a thing is, and a folder never looks like a type.</summary>
public partial class Names
{
    private static readonly string[] SayNothing = ["Manager", "Helper", "Helpers", "Util", "Utils", "Utility", "Service", "Processor", "Info", "Data", "Base", "Impl", "Common", "Misc"];

    [Fact]
    public void No_type_has_a_name_that_could_hold_anything()
    {
        // "Data file" is the trade's word for the one file that holds everything.
        var odd = Declared().Where(t => Words(t.Name.Replace("DataFile", "", StringComparison.Ordinal)).Intersect(SayNothing).Any());
        Checkout.None(odd.Select(t => t.File + ": " + t.Name));
    }

    [Fact]
    public void No_folder_has_the_name_of_a_core_type_or_of_a_floor_elsewhere()
    {
        var types = typeof(Phrase).Assembly.GetTypes().Where(t => !t.IsNested).Select(t => t.Name).ToHashSet(StringComparer.Ordinal);
        var folders = Checkout.Sources.Select(f => f.Split('/')).SelectMany(p => p[2..^1].Select(folder => (Project: p[1], Folder: folder))).Distinct().ToArray();
        var floors = folders.Where(f => f.Project == "Tussock").Select(f => f.Folder).ToHashSet(StringComparer.Ordinal);
        Checkout.None(folders.Where(f => types.Contains(f.Folder) || (f.Project != "Tussock" && floors.Contains(f.Folder))));
    }

    [Fact]
    public void The_namespace_is_the_folder()
    {
        var odd = Checkout.Sources.Where(f => Namespace().Match(Checkout.Read(f)) is { Success: true } m && m.Groups["it"].Value != Path.GetDirectoryName(f[4..])!.Replace('\\', '/').Replace('/', '.'));
        Checkout.None(odd);
    }

    [Fact]
    public void A_file_with_one_type_has_its_name()
    {
        var odd = Declared().GroupBy(t => t.File).Where(g => g.Count() == 1 && g.Single().Name != Path.GetFileName(g.Key).Split('.')[0]).Select(g => g.Key);
        Checkout.None(odd.Where(f => !f.Contains("/Migrations/", StringComparison.Ordinal)));
    }

    private static IEnumerable<(string File, string Name)> Declared() =>
        Checkout.Sources.SelectMany(f => Declaration().Matches(Checkout.Read(f)).Select(m => (f, m.Groups["it"].Value)));

    private static IEnumerable<string> Words(string name) => Word().Matches(name).Select(m => m.Value);

    [GeneratedRegex(@"^\s*(?:(?:public|internal|private|protected|sealed|static|abstract|partial|readonly|ref|file) )*(?:class|record(?: struct)?|struct|enum|interface) (?<it>\w+)", RegexOptions.Multiline)]
    private static partial Regex Declaration();

    [GeneratedRegex(@"^namespace (?<it>[\w.]+);", RegexOptions.Multiline)]
    private static partial Regex Namespace();

    [GeneratedRegex("[A-Z]+(?![a-z])|[A-Z][a-z0-9]+")]
    private static partial Regex Word();
}
