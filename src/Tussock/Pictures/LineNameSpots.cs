namespace Tussock.Pictures;

/// <summary>Finds room for the names of lines on a map: beside the line or off its ends, clear of fences, other lines and names already there.</summary>
/// <remarks>Belongs to one thread. With very many lines on one sheet no name can be read, and the first spot is taken.</remarks>
internal sealed class LineNameSpots
{
    /// <summary>Points along fences and lines are no farther from each other than this.</summary>
    private const double Between = 3;

    private const double Clear = 2;
    private const int MostLines = 300;
    private readonly List<(double X, double Y)> taken;
    private readonly bool isCrowded;
    private readonly (double Right, double Bottom) sheet;

    /// <param name="taken">Legs of fences and lines, and marks as legs without length.</param>
    /// <param name="lines">How many lines there are.</param>
    /// <param name="sheet">Size of the land's part of the sheet in points.</param>
    internal LineNameSpots(IEnumerable<((double X, double Y) From, (double X, double Y) To)> taken, int lines, (double Right, double Bottom) sheet)
    {
        isCrowded = lines > MostLines;
        this.sheet = sheet;
        this.taken = isCrowded ? [] : [.. taken.SelectMany(Along)];
    }

    /// <summary>Middle of the box for a line's name; the box counts as taken from then on.</summary>
    internal (double X, double Y) Beside((double X, double Y) from, (double X, double Y) to, double wide, double high)
    {
        var best = (X: 0.0, Y: 0.0);
        var room = double.NegativeInfinity;
        foreach (var spot in Spots(from, to, wide, high))
        {
            if (isCrowded) return spot;
            var free = spot.X < wide / 2 || spot.X > sheet.Right - (wide / 2) || spot.Y < high / 2 || spot.Y > sheet.Bottom - (high / 2) ? -1 : taken.Select(t => Apart(spot, t, wide, high)).DefaultIfEmpty(Clear).Min();
            if (free > room) (best, room) = (spot, free);
            if (room >= Clear) break;
        }

        if (!isCrowded)
        {
            var (dx, dy) = (wide / 2, high / 2);
            foreach (var y in (double[])[best.Y - dy, best.Y, best.Y + dy]) taken.AddRange(Along(((best.X - dx, y), (best.X + dx, y))));
        }

        return best;
    }

    /// <summary>On the upper side of the line's middle, quarters, on the lower side, then off its ends.</summary>
    private static IEnumerable<(double X, double Y)> Spots((double X, double Y) from, (double X, double Y) to, double wide, double high)
    {
        var (dx, dy) = (to.X - from.X, to.Y - from.Y);
        var length = Math.Max(1e-9, Math.Sqrt((dx * dx) + (dy * dy)));
        var (alongX, alongY) = (dx / length, dy / length);
        var (acrossX, acrossY) = alongX >= 0 ? (alongY, -alongX) : (-alongY, alongX);
        var aside = (Math.Abs(acrossX) * wide / 2) + (Math.Abs(acrossY) * high / 2) + Clear + 0.5;
        foreach (var side in (int[])[1, -1])
        {
            foreach (var share in (double[])[0.5, 0.3, 0.7, 0.15, 0.85]) yield return (from.X + (dx * share) + (acrossX * aside * side), from.Y + (dy * share) + (acrossY * aside * side));
        }

        var beyond = (Math.Abs(alongX) * wide / 2) + (Math.Abs(alongY) * high / 2) + Clear + 0.5;
        yield return (to.X + (alongX * beyond), to.Y + (alongY * beyond));
        yield return (from.X - (alongX * beyond), from.Y - (alongY * beyond));
    }

    private static IEnumerable<(double X, double Y)> Along(((double X, double Y) From, (double X, double Y) To) leg)
    {
        var ((x, y), (toX, toY)) = leg;
        var steps = (int)Math.Clamp(Math.Ceiling(Math.Sqrt(Math.Pow(toX - x, 2) + Math.Pow(toY - y, 2)) / Between), 1, 400);
        for (var i = 0; i <= steps; i++) yield return (x + ((toX - x) * i / steps), y + ((toY - y) * i / steps));
    }

    private static double Apart((double X, double Y) spot, (double X, double Y) point, double wide, double high)
    {
        var (dx, dy) = (Math.Max(0, Math.Abs(point.X - spot.X) - (wide / 2)), Math.Max(0, Math.Abs(point.Y - spot.Y) - (high / 2)));
        return Math.Sqrt((dx * dx) + (dy * dy));
    }
}
