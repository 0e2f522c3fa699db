using System.IO.Compression;
using Tussock.Exchange.Places;

namespace Tussock.Exchange.Reading;

/// <summary>Files packed in a zip, unpacked in memory and never further than is allowed, whatever the zip says about sizes.</summary>
internal static class PackedFiles
{
    private const int MostEntries = 2_000;

    /// <summary>The packed files that are wanted, by name; null, and told, when the zip can't be read or holds too much.</summary>
    /// <param name="stream">The zip.</param>
    /// <param name="isWanted">Which names are wanted.</param>
    /// <param name="findings">Where faults go.</param>
    internal static Dictionary<string, byte[]>? Unpack(Stream stream, Func<string, bool> isWanted, MapFindings findings)
    {
        try
        {
            using var zip = new ZipArchive(stream, ZipArchiveMode.Read);
            var files = new Dictionary<string, byte[]>(StringComparer.OrdinalIgnoreCase);
            var left = MapFindings.MostBytes;
            if (zip.Entries.Count > MostEntries) left = -1;
            foreach (var entry in zip.Entries.Take(MostEntries).Where(e => isWanted(e.FullName)))
            {
                using var packed = entry.Open();
                var bytes = Bytes(packed, left);
                left -= bytes?.Length ?? left + 1;
                if (left < 0) break;
                files.TryAdd(entry.FullName, bytes!);
            }

            if (left >= 0) return files;
            findings.Stop(null, Phrase.Of("maps.too_long", ("most", MapFindings.MostBytes >> 20)), Phrase.Of("maps.too_many_todo"));
        }
        catch (Exception wrong) when (wrong is InvalidDataException or NotSupportedException or EndOfStreamException or ArgumentException or OverflowException)
        {
            // A zip that is damaged, locked, or of a kind that nobody here unpacks: told, not a fault of the program.
            findings.Stop(null, Phrase.Of("maps.bad_zip"), Phrase.Of("maps.bad_zip_todo"));
        }

        return null;
    }

    /// <summary>All bytes of a stream; null when there are more than allowed.</summary>
    internal static byte[]? Bytes(Stream stream, int most)
    {
        using var all = new MemoryStream();
        var part = new byte[1 << 16];
        for (var read = stream.Read(part); read > 0; read = stream.Read(part))
        {
            if (all.Length + read > most) return null;
            all.Write(part, 0, read);
        }

        return all.ToArray();
    }
}
