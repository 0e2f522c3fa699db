namespace Tussock.Review;

/// <summary>Signs of a lost nest at a nest that no visit found lost.</summary>
internal static class RemainsWithoutLoss
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            if (history.Remains.IsEmpty || history.Fate.FirstLost is not null || history.Fate.EndedBy is not null || !history.Fate.IsCounted) continue;
            var first = history.Remains[0];
            foreach (var sign in history.Remains) if (sign.Source.Row.Line < first.Source.Row.Line) first = sign;
            on.Add("remains_without_loss", Severity.Contradiction, first.Source.Place("sign"), history.Nest, ("signs", history.Remains.Length));
        }
    }
}
