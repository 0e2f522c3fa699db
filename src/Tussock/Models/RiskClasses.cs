namespace Tussock.Models;

/// <summary>Patterns cut into classes of fitted daily loss.</summary>
internal static class RiskClasses
{
    /// <summary>Class of each pattern, 0 the lowest: about equal hazard spent in each; equal hazards stay together; classes are numbered without gaps.</summary>
    public static int[] Of(double[] hazard, double[] days, int classes)
    {
        var order = Enumerable.Range(0, hazard.Length).OrderBy(p => hazard[p]).ToArray();
        double total = 0, passed = 0, last = double.NaN;
        for (var p = 0; p < hazard.Length; p++) total += hazard[p] * days[p];
        var classOf = new int[hazard.Length];
        int now = 0, number = -1, cut = -1;
        foreach (var p in order)
        {
            if (!Alike(hazard[p], last)) now = Math.Min(classes - 1, (int)(classes * passed / total));
            if (now != cut) (cut, number) = (now, number + 1);
            classOf[p] = number;
            (passed, last) = (passed + hazard[p] * days[p], hazard[p]);
        }

        return classOf;
    }

    private static bool Alike(double a, double b) => Math.Abs(a - b) <= 1e-9 * Math.Abs(a);
}
