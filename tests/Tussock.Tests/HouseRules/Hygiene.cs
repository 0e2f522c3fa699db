using System.Text.RegularExpressions;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>What a visitor of the checkout may rely on.</summary>
public partial class Hygiene
{
    private const int LongestFile = 500;

    /// <summary>The first two folders on the way to this checkout.</summary>
    private static readonly string Here = string.Join(Path.DirectorySeparatorChar, Checkout.Root.Split(Path.DirectorySeparatorChar).Take(3));

    [Fact]
    public void No_source_file_is_longer_than_500_lines()
    {
        var sources = Checkout.Files.Where(f => f.EndsWith(".cs", StringComparison.Ordinal) && !f.Contains("/Migrations/", StringComparison.Ordinal));
        Checkout.None(sources.Where(f => Checkout.Read(f).Split('\n').Length > LongestFile + 1));
    }

    [Fact]
    public void The_scripts_can_be_run_as_they_are()
    {
        if (OperatingSystem.IsWindows()) return;
        foreach (var script in new[] { "tussock", "test", "pack", ".ci/run" })
        {
            Assert.True(File.GetUnixFileMode(Path.Combine(Checkout.Root, script)).HasFlag(UnixFileMode.UserExecute), script);
            Assert.StartsWith("#!", Checkout.Read(script), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void No_file_knows_somebodys_machine()
    {
        var odd = Checkout.Texts.Where(f => !f.StartsWith("tests/checks/", StringComparison.Ordinal) && !f.StartsWith("tests/corpus/", StringComparison.Ordinal) && !f.EndsWith("HouseRules/Hygiene.cs", StringComparison.Ordinal) && (Checkout.Read(f) is var text && (OwnPath().IsMatch(text) || text.Contains(Here, StringComparison.Ordinal))));
        Checkout.None(odd);
    }

    [Fact]
    public void The_licence_is_Apache_2() =>
        Assert.Matches(@"^\s*Apache License\s+Version 2\.0", Checkout.Read("LICENSE"));

    [Fact]
    public void Every_package_stands_in_the_table_of_packages()
    {
        var table = Checkout.Read("docs/packages.md");
        var packages = new[] { "Directory.Packages.props", "Directory.Build.props" }.SelectMany(f => Package().Matches(Checkout.Read(f)).Select(m => m.Groups["it"].Value)).ToArray();
        Assert.NotEmpty(packages);
        var projects = string.Concat(Checkout.Files.Where(f => f.EndsWith(".csproj", StringComparison.Ordinal) || f == "Directory.Build.props").Select(Checkout.Read));
        Checkout.None(packages.Where(p => !projects.Contains("PackageReference Include=\"" + p + "\"", StringComparison.Ordinal)));
        Checkout.None(packages.Where(p => !table.Contains("| " + p + " |", StringComparison.Ordinal)));
        Checkout.None(Row().Matches(table).Select(m => m.Groups["it"].Value).Where(p => p != "package").Except(packages));
    }

    [Fact]
    public void Links_in_the_documents_lead_somewhere()
    {
        var broken = Checkout.Files.Where(f => f.EndsWith(".md", StringComparison.Ordinal) && !f.StartsWith("tests/", StringComparison.Ordinal))
            .SelectMany(f => Link().Matches(Checkout.Read(f)).Select(m => (File: f, Target: m.Groups["it"].Value)))
            .Where(l => !l.Target.Contains("://", StringComparison.Ordinal) && !Path.Exists(Path.Combine(Checkout.Root, Path.GetDirectoryName(l.File)!, l.Target)));
        Checkout.None(broken);
    }

    [Fact]
    public void Every_command_of_the_documents_is_a_command_of_the_program()
    {
        var commands = Command().Matches(Checkout.Read("src/Tussock.App/Commands/Tree.cs") + string.Concat(Checkout.Sources.Where(f => f.StartsWith("src/Tussock.App/Commands/", StringComparison.Ordinal)).Select(Checkout.Read))).Select(m => m.Groups["it"].Value).ToHashSet(StringComparer.Ordinal);
        var written = new[] { "README.md", "CONTRIBUTING.md", "docs/season-folder.md", "docs/results.md" }.SelectMany(f => Written().Matches(Checkout.Read(f)).Select(m => m.Groups["it"].Value));
        Checkout.None(written.Except(commands));
    }

    [GeneratedRegex(@"(?<![\w.])(?<it>/home/\w|/root/|/Users/\w|[A-Z]:\\Users\\)")]
    private static partial Regex OwnPath();

    [GeneratedRegex("<(?:GlobalPackageReference|PackageVersion) Include=\"(?<it>[^\"]+)\"")]
    private static partial Regex Package();

    [GeneratedRegex(@"^\| (?<it>[\w.]+) \|", RegexOptions.Multiline)]
    private static partial Regex Row();

    [GeneratedRegex(@"\]\((?<it>[^)#\s]+)")]
    private static partial Regex Link();

    [GeneratedRegex("Command\\(\"(?<it>[a-z]+)\"")]
    private static partial Regex Command();

    [GeneratedRegex(@"^\s*\./tussock (?<it>[a-z]+)", RegexOptions.Multiline)]
    private static partial Regex Written();
}
