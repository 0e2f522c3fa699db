using System.Text.Json;
using Tussock.Exchange.CameraPackage;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Cameras;

/// <summary>Every package of <c>corpus/cameras</c> gives exactly the problems beside it.</summary>
public sealed class BrokenPackageTests
{
    public static TheoryData<string> Names => [.. Corpus.Names("cameras")];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_package_gives_its_expected_problems_and_no_others(string name)
    {
        var expected = JsonDocument.Parse(File.ReadAllText(Path.Combine(Corpus.Folder("cameras/" + name), "expected.json"))).RootElement;

        var reading = CameraPackageReader.Read(Package(name), MadePackage.Zone, TestContext.Current.CancellationToken);

        Assert.Equal(
            expected.EnumerateArray().Select(e => Line(e.GetProperty("file").GetString(), e.GetProperty("line").ValueKind == JsonValueKind.Null ? null : e.GetProperty("line").GetInt32(), e.GetProperty("column").GetString(), e.GetProperty("rule").GetString())),
            reading.Problems.Select(p => Line(p.Place.File, p.Place.Line, p.Place.Column, p.Rule)));
        foreach (var (e, p) in expected.EnumerateArray().Zip(reading.Problems)) Assert.Contains(e.GetProperty("contains").GetString()!, Catalogue.English.Say(p.What), StringComparison.Ordinal);
        Assert.All(reading.Problems, p => Assert.EndsWith(".", Catalogue.English.Say(p.ToDo), StringComparison.Ordinal));
        Assert.Equal(reading.Problems.IsEmpty, reading.Records is not null);
    }

    private static string Package(string name) => Path.Combine(Corpus.Folder("cameras/" + name), "package");

    private static string Line(string? file, int? line, string? column, string? rule) => $"{file}:{line} {column} {rule}";
}
