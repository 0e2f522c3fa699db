namespace Tussock.Tests.Models;

/// <summary>Runs work under a scheduler that has one thread: whatever it starts in parallel is done one after the other.</summary>
public static class OneThread
{
    public static void Run(Action work) =>
        Task.Factory.StartNew(work, CancellationToken.None, TaskCreationOptions.None, new ConcurrentExclusiveSchedulerPair(TaskScheduler.Default, 1).ExclusiveScheduler).GetAwaiter().GetResult();
}
