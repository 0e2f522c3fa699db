// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Diagnostics;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Store;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Sync;

/// <summary>A phone's file, and a desk that is killed.</summary>
public sealed class FieldLogTests : IDisposable
{
    private static readonly Guid Visit = new("01900000-0000-7000-8000-00000000aaaa");
    private readonly StoreScratch scratch = new();
    private readonly Guid season;

    public FieldLogTests()
    {
        DataFile.OpenToWrite(scratch.File).Import(new ImportRequest { Season = PlainFolder.Invented("small", 4), By = "Ann", Now = DateTimeOffset.UnixEpoch });
        season = DataFile.OpenToRead(scratch.File).Seasons().Single().Id;
    }

    public void Dispose() => scratch.Dispose();

    private string Change(int n) => $$$"""{"id":"{{{Id(n)}}}","batch":"{{{Id(n)}}}","device":"d","device_seq":{{{n}}},"season":"{{{season}}}","kind":"visits","record":"{{{Visit}}}","op":"{{{(n == 1 ? "create" : "set")}}}","fields":{"note":{"value":"n{{{n}}}","replaces":[{{{(n == 1 ? "" : "\"" + Id(n - 1) + "\"")}}}]}},"by":"Ann","said_at":"2026-05-14T17:05:12.123Z","offset_min":-300,"source":"field app 1","format":1}""";

    private static string Id(int n) => "01900000-0000-7000-8000-" + n.ToString("x12", System.Globalization.CultureInfo.InvariantCulture);

    private string Written(string text)
    {
        var path = Path.Combine(scratch.Folder, "tussock-crew-1-2026-05-14.jsonl");
        File.WriteAllText(path, text);
        return path;
    }

    private string Whole()
    {
        var photo = "a photo"u8.ToArray();
        var body = """{"format":"field-log/1","device":"d","name":"crew 1","season":"s","changes":3,"media":1}""" + "\n" + string.Join('\n', Enumerable.Range(1, 3).Select(Change))
            + "\n" + $$"""{"media":"{{Convert.ToHexStringLower(SHA256.HashData(photo))}}","type":"image/jpeg","base64":"{{Convert.ToBase64String(photo)}}"}""" + "\n";
        return body + $$"""{"end":true,"sha256":"{{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(body)))}}"}""" + "\n";
    }

    [Fact]
    public void A_file_is_taken_in_once_however_often_it_comes()
    {
        var path = Written(Whole());
        Assert.Contains("3 new changes taken in, 0 known already, one photo", Typed.Done("import", scratch.File, path).Out, StringComparison.Ordinal);
        Assert.Contains("0 new changes taken in, 3 known already", Typed.Done("import", scratch.File, path).Out, StringComparison.Ordinal);
        Assert.Equal(3, DataFile.OpenToRead(scratch.File).Changes(Visit).Length);
        Assert.Single(Directory.EnumerateFiles(scratch.File + ".media"));
    }

    [Fact]
    public void A_file_cut_anywhere_gives_its_whole_lines_and_the_rest_later()
    {
        var text = Whole();
        for (var cut = 90; cut < text.Length - 2; cut += 37)
        {
            var (exit, _, err) = Typed.Run("import", scratch.File, Written(text[..cut]));
            Assert.True(exit == 0 && err.Contains("cut short", StringComparison.Ordinal), cut + ": " + err);
        }

        Typed.Done("import", scratch.File, Written(text));
        Assert.Equal(3, DataFile.OpenToRead(scratch.File).Changes(Visit).Length);
        Assert.Empty(DataFile.OpenToRead(scratch.File).Check());
    }

    [Fact]
    public void A_file_that_was_changed_or_is_another_gives_nothing()
    {
        var before = File.ReadAllBytes(scratch.File);
        Assert.Contains("check sum", Typed.Run("import", scratch.File, Written(Whole().Replace("n2", "n9", StringComparison.Ordinal))).Err, StringComparison.Ordinal);
        Assert.Contains("not a file of the phone app", Typed.Run("import", scratch.File, Written("{}\n")).Err, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(scratch.File));
    }

    [Fact]
    public async Task What_a_phone_was_told_is_there_after_the_desk_was_killed()
    {
        var stop = TestContext.Current.CancellationToken;
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true };
        foreach (var arg in (string[])[typeof(App.Commands.Tree).Assembly.Location, "serve", scratch.File, "--port", "0"]) start.ArgumentList.Add(arg);
        using var process = Process.Start(start)!;
        string? line;
        do line = await process.StandardOutput.ReadLineAsync(stop);
        while (line is not null && !line.StartsWith("Open ", StringComparison.Ordinal));
        using var client = new HttpClient { BaseAddress = new Uri(line![5..].Trim()) };
        async Task<JsonElement> Post(string what, string json)
        {
            var answer = await client.PostAsync(new Uri("/field/api/" + what, UriKind.Relative), new StringContent(json, Encoding.UTF8, "application/json"), stop);
            return JsonDocument.Parse(await answer.Content.ReadAsStringAsync(stop)).RootElement;
        }

        var key = (await Post("pair", """{"code":"","name":"x"}""")).GetProperty("key").GetString();
        client.DefaultRequestHeaders.Authorization = new("Bearer", key);
        for (var n = 1; n <= 5; n++) Assert.Equal(1, (await Post("sync", $$"""{"device":"d","position":0,"changes":[{{Change(n)}}]}""")).GetProperty("accepted").GetArrayLength());
        process.Kill();
        await process.WaitForExitAsync(stop);

        Assert.Equal(5, DataFile.OpenToRead(scratch.File).Changes(Visit).Length);
        Assert.Empty(DataFile.OpenToRead(scratch.File).Check());
        Assert.Contains("x, paired", Typed.Done("phones", scratch.File).Out, StringComparison.Ordinal);
    }
}
