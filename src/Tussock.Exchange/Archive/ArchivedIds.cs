using System.Security.Cryptography;
using System.Text;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Exchange.Archive;

/// <summary>Ids of rows of an archive, where two rows have one name and need them.</summary>
/// <remarks>
/// The records' own ids stay at home: one made from names (version 5) lets somebody who guesses the names prove the guess, one made on a phone (version 7) tells when. These are
/// made of what stands in the archive anyway. Of two rows with one name the one with the smaller id stands, so only within such a pair the order of the former ids is kept.
/// </remarks>
internal static class ArchivedIds
{
    /// <summary>An id for each row.</summary>
    internal static string[] Of(RecordKind kind, IReadOnlyList<Source> sources, IReadOnlyList<RecordRow> rows)
    {
        var space = Uuid.FromName(Guid.Empty, kind.Name + "\n" + Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', rows.Select(r => string.Join('\t', r.Cells)))))));
        var ids = rows.Select((_, i) => Uuid.FromName(space, Words.Numbers.Fixed(i, 0)).ToString("D")).ToArray();
        foreach (var same in Enumerable.Range(0, rows.Count).GroupBy(i => string.Join('\t', kind.Key.Append("pass").Append("side").Select(sources[i].Text)), StringComparer.Ordinal).Where(g => g.Count() > 1))
        {
            var sorted = same.Select(i => ids[i]).Order(StringComparer.Ordinal).ToArray();
            var order = same.OrderBy(i => sources[i].Text("id"), StringComparer.Ordinal).ToArray();
            for (var n = 0; n < order.Length; n++) ids[order[n]] = sorted[n];
        }

        return ids;
    }
}
