namespace Tussock.App.Serving.Desk;

/// <summary>Where whatever takes long is computed, for all seasons together: a core is left to the pages where there are several.</summary>
internal static class Aside
{
    /// <summary>Seasons of more rows are computed for many seconds.</summary>
    private const int ManyRows = 20_000;

    private static readonly TaskScheduler Cores = new ConcurrentExclusiveSchedulerPair(TaskScheduler.Default, Math.Max(1, Environment.ProcessorCount - 1)).ConcurrentScheduler;

    /// <summary>Starts work on records of so many rows.</summary>
    internal static Task Start(Action work, int rows) => Task.Factory.StartNew(work, CancellationToken.None, TaskCreationOptions.DenyChildAttach, rows < ManyRows ? TaskScheduler.Default : Cores);
}
