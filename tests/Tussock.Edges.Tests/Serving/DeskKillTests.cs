using System.Globalization;
using System.Net;
using Tussock.Edges.Tests.Store;
using Tussock.Records;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>A served desk that is killed in the middle of somebody's edits: what it has acknowledged is there, once, and the file is whole.</summary>
/// <remarks>Few rounds here; many with TUSSOCK_LONG=1.</remarks>
public abstract class DeskKillTests(DataKind kind) : IDisposable
{
    private const int Edits = 100;
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1";
    private readonly TestData scratch = TestData.Of(kind);

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, IsLong ? 25 : 2)];

    public void Dispose()
    {
        scratch.Dispose();
        GC.SuppressFinalize(this);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public async Task What_was_acknowledged_before_a_kill_is_there_once(int seed)
    {
        var cancel = TestContext.Current.CancellationToken;
        var random = new Random(seed);
        DataFile.OpenToWrite(scratch.Data).Import(new ImportRequest { Season = PlainFolder.Invented("small", 60), By = "crew 1", Now = DateTimeOffset.UnixEpoch.AddYears(56) }, cancellation: cancel);
        var table = DataFile.OpenToRead(scratch.Data).Tables("small", cancel).Table(RecordKind.Visits)!;
        var visits = table.Rows.Select(r => Guid.Parse(r.Cells[table.IndexOf("id")])).ToArray();
        var before = DataFile.OpenToRead(scratch.Data).Last.Position;
        var (acknowledged, sent) = (new List<(Guid Visit, string Note)>(), new List<string>());
        var victim = random.Next(5, Edits - 5);
        for (var n = 0; n < Edits;)
        {
            using var served = ServedProcess.Start(scratch.Data);
            // More kills after the first: whatever is left of one must not trouble the next.
            var last = n + random.Next(10, 60);
            for (; n < Edits; n++)
            {
                var visit = visits[random.Next(visits.Length)];
                var note = "edit " + n.ToString(CultureInfo.InvariantCulture);
                var form = await served.FormAsync("", visit, cancel);
                form["v.note"] = note;
                sent.Add(note);
                var posting = served.PostAsync("", visit, form, cancel);
                if (n == last || n == victim)
                {
                    await Task.Delay(TimeSpan.FromMilliseconds(random.NextDouble() * 12), cancel);
                    served.Kill();
                }

                try
                {
                    if (await posting == HttpStatusCode.SeeOther) acknowledged.Add((visit, note));
                }
                catch (HttpRequestException)
                {
                    // Killed before it could answer: the edit may be there or not, but not by half.
                }

                if (n == last || n == victim) break;
            }

            n++;
        }

        Assert.True(acknowledged.Count > Edits / 2, "only " + acknowledged.Count);
        var file = DataFile.OpenToRead(scratch.Data);
        Assert.Empty(file.Check(cancellation: cancel));
        var written = file.Since(before).SelectMany(c => c.Fields.Where(f => f.Name == "note").Select(f => (c.Record, f.Value))).ToArray();
        Assert.All(acknowledged, a => Assert.Single(written, w => w == a));
        Assert.All(written.GroupBy(w => w.Value), w => Assert.Single(w));
        Assert.All(written, w => Assert.Contains(w.Value, sent));
        Assert.Equal(0, Commands.Typed.Run("check", scratch.Data).Exit);
    }
}

/// <summary>The same in a file.</summary>
public sealed class DeskKillFileTests() : DeskKillTests(DataKind.File);

/// <summary>The same on a server.</summary>
public sealed class DeskKillServerTests() : DeskKillTests(DataKind.Server);
