namespace Tussock.App.Serving.People;

/// <summary>So many requests a minute for each person, and for each address that nobody signed in from; some more in a burst. Lives in memory. May be shared between threads.</summary>
internal sealed class Allowance(TimeProvider clock, int aMinute, int burst)
{
    private const int MostKept = 10_000;
    private readonly Lock gate = new();
    private readonly Dictionary<string, (double Left, DateTimeOffset At)> all = new(StringComparer.Ordinal);

    /// <summary>Takes one request from somebody's allowance.</summary>
    /// <returns>How long to wait when nothing is left; null when something was.</returns>
    internal TimeSpan? Take(string whose)
    {
        var now = clock.GetUtcNow();
        lock (gate)
        {
            if (all.Count >= MostKept && !all.ContainsKey(whose)) Forget(now);
            var (left, at) = all.GetValueOrDefault(whose, (burst, now));
            left = Math.Min(burst, left + Math.Max(0, (now - at).TotalMinutes * aMinute));
            var isLeft = left >= 1;
            all[whose] = (isLeft ? left - 1 : left, now);
            return isLeft ? null : TimeSpan.FromMinutes((1 - left) / aMinute);
        }
    }

    /// <summary>Whoever has not asked for long has a full allowance again and need not be remembered; if all have, the oldest half goes.</summary>
    private void Forget(DateTimeOffset now)
    {
        foreach (var old in all.Where(a => (now - a.Value.At).TotalMinutes * aMinute >= burst).Select(a => a.Key).ToArray()) all.Remove(old);
        if (all.Count < MostKept) return;
        foreach (var old in all.OrderBy(a => a.Value.At).Take(MostKept / 2).Select(a => a.Key).ToArray()) all.Remove(old);
    }
}
