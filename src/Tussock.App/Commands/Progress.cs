using System.Diagnostics;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>Shows on a terminal how far a long piece of work is; says nothing in the first second, or into a file.</summary>
internal sealed class Progress(Screen screen, string what) : IDisposable
{
    private const int QuietMilliseconds = 1000;
    private const int StepMilliseconds = 250;
    private readonly Stopwatch clock = Stopwatch.StartNew();
    private readonly Lock gate = new();
    private long last;
    private bool hasShown;

    /// <summary>Told the share of the work done, from any thread.</summary>
    internal void Report(double share)
    {
        if (Console.IsErrorRedirected) return;
        var now = clock.ElapsedMilliseconds;
        if (now < QuietMilliseconds || now - Interlocked.Read(ref last) < StepMilliseconds) return;
        lock (gate)
        {
            last = now;
            hasShown = true;
            screen.Err.Write("\r" + screen.Words.Say(Phrase.Of("app.progress", ("what", Phrase.Of(what)), ("share", share))) + "   ");
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (hasShown) screen.Err.WriteLine();
    }
}
