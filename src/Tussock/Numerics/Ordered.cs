namespace Tussock.Numerics;

/// <summary>Work split by index over all cores. Each index writes only its own place, so the number of threads never enters a result.</summary>
public static class Ordered
{
    /// <summary>Does the work for 0 … count − 1, in any order, on all cores.</summary>
    /// <param name="count">Number of indexes.</param>
    /// <param name="work">Work of one index; must not touch what another index writes.</param>
    /// <param name="cancel">Stops the work between indexes.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static void For(int count, Action<int> work, CancellationToken cancel = default)
    {
        try
        {
            Parallel.For(0, count, new ParallelOptions { CancellationToken = cancel }, work);
        }
        catch (AggregateException several) when (several.InnerExceptions.Count == 1)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Capture(several.InnerExceptions[0]).Throw();
        }
    }
}
