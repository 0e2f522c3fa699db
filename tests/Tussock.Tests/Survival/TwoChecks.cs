using System.Globalization;
using Tussock.Fates;

namespace Tussock.Tests.Survival;

/// <summary>The constructed set of 24 nests with two checks in <c>published-values/data/twocheck_constructed.csv</c>.</summary>
public static class TwoChecks
{
    public static NestSpans Spans(Func<string, bool> cover)
    {
        var rows = File.ReadAllLines(Path.Combine(Checks.Folder("published-values"), "data", "twocheck_constructed.csv")).Skip(1).Select(line => line.Split(','));
        return NestRows.Spans(rows.Where(r => cover(r[2].Trim('"'))).Select(r =>
        {
            double d1 = Number(r[3]), d2 = Number(r[4]);
            var line = (int)Number(r[1]);
            return r[5] == "0" ? new NestRow(line, 0, d1) : r[6] == "0" ? new NestRow(line, d1, d1 + d2) : new NestRow(line, d1 + d2);
        }));
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);
}
