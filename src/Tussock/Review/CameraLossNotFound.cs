using Tussock.Fates;

namespace Tussock.Review;

/// <summary>A camera saw the loss of a nest that no visit found lost: the camera alone times it.</summary>
internal static class CameraLossNotFound
{
    internal static void Look(Inspection on)
    {
        foreach (var history in on.Histories)
        {
            if (history.Fate is not { LostAt: { } lostAt, FirstLost: null } || !history.Nest.IsSet) continue;
            foreach (var seen in FateRule.TimingEvents(history.Cameras, on.Season.Settings.LossRule, history.Nest.Eggs))
            {
                if (lostAt - seen.Day >= 1) continue;
                on.Add("camera_loss_not_found", Severity.Odd, seen.Source.Place(), history.Nest, ("day", lostAt));
                break;
            }
        }
    }
}
