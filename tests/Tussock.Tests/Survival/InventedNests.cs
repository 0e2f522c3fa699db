using FsCheck;
using FsCheck.Fluent;
using Tussock.Fates;

namespace Tussock.Tests.Survival;

/// <summary>Invented seasons for laws: a few lines of a few nests with ordinary, missed and late visits, now and then a camera time.</summary>
public sealed record Invented(IReadOnlyList<NestRow> Rows)
{
    public NestSpans Spans => NestRows.Spans(Rows);

    public override string ToString() => string.Join("; ", Rows.Select(r => $"line {r.Line} a {r.A} b {r.B} t {r.T} {r.Cause}"));
}

/// <summary>Makes <see cref="Invented"/> seasons for property tests.</summary>
public static class InventedNests
{
    public static Arbitrary<Invented> Seasons() => Arb.From(
        from lines in Gen.Choose(2, 6)
        from nests in Gen.Choose(lines, lines * 8)
        from rows in Row(lines).ArrayOf(nests)
        select new Invented([.. rows, .. Enumerable.Range(0, lines).Select(line => new NestRow(line, 28))]));

    private static Gen<NestRow> Row(int lines) =>
        from line in Gen.Choose(0, lines - 1)
        from first in Gen.Choose(11, 17)
        from second in Gen.Choose(24, 33)
        from kind in Gen.Choose(0, 9)
        from cause in Gen.Elements(Cause.Depredated, Cause.Depredated, Cause.Depredated, Cause.Trampled, Cause.NotRecorded)
        select kind switch
        {
            0 => new NestRow(line, 0),
            1 => new NestRow(line, first),
            2 => new NestRow(line, 0, second, Cause: cause),
            3 or 4 => new NestRow(line, 0, first, Cause: cause),
            5 or 6 => new NestRow(line, first, second, Cause: cause),
            7 => new NestRow(line, first, second, first + 0.4 * (second - first)),
            _ => new NestRow(line, second),
        };
}
