using System.Text.Json;
using Tussock.Journal;

namespace Tussock.Store.Bulk;

/// <summary>Writes one batch: all of it, or nothing.</summary>
internal sealed class BatchWriter(Database database, IProgress<ImportProgress>? progress, CancellationToken cancellation)
{
    private const int Stride = 0xFFF;

    /// <summary>Signs and writes drafts inside the open transaction.</summary>
    internal void Write(IReadOnlyList<Draft> drafts, Signature signature, JournalWriter writer)
    {
        for (var i = 0; i < drafts.Count; i++)
        {
            if ((i & Stride) == 0)
            {
                cancellation.ThrowIfCancellationRequested();
                progress?.Report(new ImportProgress(ImportStep.Writing, i, drafts.Count));
            }

            writer.Write(signature.Sign(drafts[i]));
        }

        writer.Project();
    }

    /// <summary>Writes a plan inside the open transaction: its changes, and what is remembered of the folder.</summary>
    internal void Write(ImportPlan plan, Signature signature, JournalWriter writer)
    {
        Write(plan.Drafts, signature, writer);
        foreach (var (record, digest) in plan.Digests) writer.Remember(plan.Season, record, digest);
        foreach (var record in plan.Forgotten) writer.Forget(record);
        foreach (var (kind, names) in plan.DigestFields) writer.Remember(plan.Season, kind, JsonSerializer.Serialize(names.ToArray()));
        cancellation.ThrowIfCancellationRequested();
        progress?.Report(new ImportProgress(ImportStep.Finishing, plan.Drafts.Length, plan.Drafts.Length));
    }

    /// <summary>A signature that goes on where the journal ends.</summary>
    internal Signature Signature(Guid season, string by, DateTimeOffset now, ReadOnlySpan<byte> chance)
    {
        var reader = new JournalReader(database);
        var device = reader.Device;
        var last = reader.LastOf(device);
        return new Signature(new TimeIds(now, chance, last?.Id)) { Device = device, Season = season, By = by, At = now, NextDeviceSeq = (last?.Seq ?? 0) + 1, NextPosition = reader.Position + 1 };
    }
}
