using System.Collections.Immutable;
using System.Text;
using FsCheck.Xunit;
using Tussock.Edges.Tests.Store;
using Tussock.Journal;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Sync;

/// <summary>The same set of changes gives the same state, in whatever order, pieces or number of copies it comes.</summary>
public abstract class ReceiveLaws(DataKind kind)
{
    private static readonly string[] Fields = ["finding", "note", "observer", FieldName.Void];

    [Property(MaxTest = 12)]
    public void Shuffled_doubled_and_in_pieces_gives_the_same_state(int seed)
    {
        using var scratch = TestData.Of(kind);
        DataFile.OpenToWrite(scratch.Data).Import(new ImportRequest { Season = PlainFolder.Invented("small", 2), By = "Ann", Now = DateTimeOffset.UnixEpoch });
        var season = DataFile.OpenToRead(scratch.Data).Seasons().Single().Id;
        var random = new Random(seed);
        var changes = Made(season, random);
        using var copied = scratch.Copied();
        var other = copied.Data;

        var whole = DataFile.OpenToWrite(scratch.Data).Receive(changes, DateTimeOffset.UnixEpoch);
        Assert.Equal((changes.Length, 0), (whole.New, whole.Refused.Length));
        var sent = changes.Concat(changes.Where(_ => random.Next(3) == 0)).ToArray();
        random.Shuffle(sent);
        foreach (var piece in sent.Chunk(random.Next(1, 12))) Assert.Empty(DataFile.OpenToWrite(other).Receive(piece, DateTimeOffset.UnixEpoch.AddDays(random.Next(100))).Refused);

        Assert.Equal(DataFile.OpenToRead(scratch.Data).States("small").Records, DataFile.OpenToRead(other).States("small").Records);
        Assert.Equal(DataFile.OpenToRead(scratch.Data).Position, DataFile.OpenToRead(other).Position);
        Assert.All(DataFile.OpenToRead(other).Check(), p => Assert.Equal("waiting", p.Rule));
    }

    /// <summary>Changes of three phones to a few records; some replace what their phone had seen, some never get their creation.</summary>
    private static ImmutableArray<Change> Made(Guid season, Random random)
    {
        var changes = new List<Change>();
        for (var n = 1; n <= random.Next(4, 40); n++)
        {
            var record = Id(1000 + random.Next(6));
            var isFirst = changes.All(c => c.Record != record);
            var field = Fields[random.Next(Fields.Length)];
            var seen = changes.Where(c => c.Record == record && c.Fields[0].Name == field && random.Next(2) == 0).Select(c => c.Id);
            changes.Add(new Change
            {
                Id = Id(n), Batch = Id(n), Device = "phone " + random.Next(3), DeviceSeq = n, Season = season, Kind = "visits", Record = record,
                Op = isFirst && random.Next(5) > 0 ? ChangeOp.Create : ChangeOp.Set, Fields = [new FieldChange(field, field == FieldName.Void ? (random.Next(2) == 0 ? "yes" : "") : "v" + random.Next(4), [.. seen])],
                By = "Ann", SaidAt = DateTimeOffset.UnixEpoch.AddDays(random.Next(40_000)), CameAt = DateTimeOffset.UnixEpoch,
            });
        }

        return [.. changes];
    }

    private static Guid Id(int n) => new(Encoding.ASCII.GetBytes(n.ToString("D16", System.Globalization.CultureInfo.InvariantCulture)), bigEndian: true);
}

/// <summary>The same in a file.</summary>
public class ReceiveFileLaws() : ReceiveLaws(DataKind.File);

/// <summary>The same on a server.</summary>
public class ReceiveServerLaws() : ReceiveLaws(DataKind.Server);
