using Tussock.Records;

namespace Tussock.Store;

/// <content>Something taken from every season, one after the other.</content>
public sealed partial class DataFile
{
    /// <summary>Seasons held at once: while one is computed on all cores, the next is read.</summary>
    private const int AtOnce = 2;

    /// <summary>Takes something from each of many seasons, so that a file of any size needs the room of a few of them.</summary>
    /// <typeparam name="T">What is taken.</typeparam>
    /// <param name="names">Names of the seasons.</param>
    /// <param name="take">What is taken of a season's tables; called from several threads.</param>
    /// <param name="progress">Told the share of seasons done, from any thread.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>What was taken, in the order of the names.</returns>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public T[] OfEach<T>(IReadOnlyList<string> names, Func<SeasonTables, T> take, Action<double>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(names);
        ArgumentNullException.ThrowIfNull(take);
        var taken = new T[names.Count];
        var done = 0;
        try
        {
            Parallel.For(0, names.Count, new ParallelOptions { MaxDegreeOfParallelism = AtOnce, CancellationToken = cancellation }, i =>
            {
                taken[i] = take(Tables(names[i], cancellation));
                progress?.Invoke((double)Interlocked.Increment(ref done) / names.Count);
            });
        }
        catch (AggregateException several) when (several.InnerExceptions[0] is DataFileException fault)
        {
            // People are told the first fault itself, as if seasons were read one by one.
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(fault);
        }

        return taken;
    }
}
