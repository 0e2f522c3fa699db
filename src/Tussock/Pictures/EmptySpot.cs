namespace Tussock.Pictures;

/// <summary>Finds room for a name inside a polygon.</summary>
internal static class EmptySpot
{
    private const int Columns = 15;
    private const int LinesOfSpots = 21;

    /// <summary>The middle of the spot, of a grid over the polygon, where a box of words is farthest from what is taken; the polygon's middle if the box fits nowhere.</summary>
    internal static (double X, double Y) In((double X, double Y)[] ring, IReadOnlyCollection<(double X, double Y)> taken, double wide, double high)
    {
        var (left, right, top, bottom) = (ring.Min(p => p.X), ring.Max(p => p.X), ring.Min(p => p.Y), ring.Max(p => p.Y));
        var best = (X: (left + right) / 2, Y: (top + bottom) / 2);
        var room = double.NegativeInfinity;
        for (var row = 1; row < LinesOfSpots; row++)
        {
            for (var column = 1; column < Columns; column++)
            {
                var spot = (X: left + ((right - left) * column / Columns), Y: top + ((bottom - top) * row / LinesOfSpots));
                if (!Corners(spot, wide + 6, high + 6).All(c => IsInside(ring, c))) continue;
                var free = taken.Select(t => Apart(spot, t, wide, high)).DefaultIfEmpty(0).Min();
                if (free <= room) continue;
                (best, room) = (spot, free);
            }
        }

        return best;
    }

    private static (double X, double Y)[] Corners((double X, double Y) spot, double wide, double high) =>
        [(spot.X - (wide / 2), spot.Y - (high / 2)), (spot.X + (wide / 2), spot.Y - (high / 2)), (spot.X + (wide / 2), spot.Y + (high / 2)), (spot.X - (wide / 2), spot.Y + (high / 2))];

    /// <summary>Distance of a point from the box; beyond 25 points more room is no better, so that names keep to the top.</summary>
    private static double Apart((double X, double Y) spot, (double X, double Y) point, double wide, double high)
    {
        var (dx, dy) = (Math.Max(0, Math.Abs(point.X - spot.X) - (wide / 2)), Math.Max(0, Math.Abs(point.Y - spot.Y) - (high / 2)));
        return Math.Min(25, Math.Sqrt((dx * dx) + (dy * dy)));
    }

    /// <summary>Even-odd rule.</summary>
    private static bool IsInside((double X, double Y)[] ring, (double X, double Y) point)
    {
        var isInside = false;
        for (int i = 0, j = ring.Length - 1; i < ring.Length; j = i++)
        {
            var (a, b) = (ring[i], ring[j]);
            if ((a.Y > point.Y) != (b.Y > point.Y) && point.X < ((b.X - a.X) * (point.Y - a.Y) / (b.Y - a.Y)) + a.X) isInside = !isInside;
        }

        return isInside;
    }
}
