namespace Tussock.Numerics;

/// <summary>Work split by index over all cores. Each index writes only its own place, so the number of threads never enters a result.</summary>
public static class Ordered
{
    /// <summary>Does the work for 0 … count − 1, in any order, on all cores.</summary>
    /// <param name="count">Number of indexes.</param>
    /// <param name="work">Work of one index; must not touch what another index writes.</param>
    /// <param name="cancel">Stops the work between indexes.</param>
    /// <remarks>Runs where the caller does: a caller whose scheduler has one thread gets one after the other.</remarks>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static void For(int count, Action<int> work, CancellationToken cancel = default) =>
        Unwrapped(() => Parallel.For(0, count, Options(cancel), work));

    /// <summary>The same with scratch room: each thread makes its own once.</summary>
    /// <param name="count">Number of indexes.</param>
    /// <param name="room">Makes room; nothing in it may pass from one index to another.</param>
    /// <param name="work">Work of one index.</param>
    /// <param name="cancel">Stops the work between indexes.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static void WithRoom<T>(int count, Func<T> room, Action<int, T> work, CancellationToken cancel = default) =>
        Unwrapped(() => Parallel.For(0, count, Options(cancel), room, (i, _, own) =>
        {
            work(i, own);
            return own;
        }, _ => { }));

    private static ParallelOptions Options(CancellationToken cancel) => new() { CancellationToken = cancel, TaskScheduler = TaskScheduler.Current };

    /// <summary>A fault of a single index comes out as it was thrown there.</summary>
    private static void Unwrapped(Action work)
    {
        try
        {
            work();
        }
        catch (AggregateException several) when (several.InnerExceptions.Count == 1)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Capture(several.InnerExceptions[0]).Throw();
        }
    }
}
