using System.Buffers;
using Tussock.Actions;
using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary><c>tussock compare --action</c>: whether an action worked, from all seasons of DATA together.</summary>
internal static class ActionRun
{
    internal static int Of(Screen screen, string data, string kind, bool asJson, DateTimeOffset? at, CancellationToken cancel)
    {
        var (pooled, problems) = SeasonSource.SeasonOrAll(data, PooledYears.All, cancel);
        if (pooled is null) return screen.Refuse(problems);
        if (Wrong(pooled, kind) is { } wrong) return screen.Refuse([wrong]);
        Answer<BeforeAfterControl> found;
        using (var progress = new Progress(screen, "app.computing")) found = BeforeAfterControl.Of(pooled, kind, new ActionOptions { Progress = progress.Report, Cancel = cancel });
        if (asJson) WriteJson(screen, kind, found, at);
        else if (found.HasValue) ActionText.Write(found.Value, screen.Words, screen.Out);
        else screen.Out.WriteLine(Results.Sentences.Sentence(screen.Words.Say(found.Why)));
        return Exit.Done;
    }

    private static Problem? Wrong(Season pooled, string kind)
    {
        var kinds = BeforeAfterControl.Kinds(pooled);
        if (kinds.Contains(kind)) return null;
        var key = kinds.IsEmpty ? "years.no_actions" : "years.no_such_action";
        return new Problem("years_asked", Severity.Stop, new Place("DATA"), Phrase.Of(key, ("kind", kind), ("kinds", kinds.ToArray())), Phrase.Of("years.no_actions_todo"));
    }

    private static void WriteJson(Screen screen, string kind, Answer<BeforeAfterControl> found, DateTimeOffset? at)
    {
        var buffer = new ArrayBufferWriter<byte>(1 << 14);
        ActionDocument.Write(kind, found, SharedOptions.Made(1, at), screen.Words, buffer);
        screen.WriteBytes(buffer.WrittenSpan);
    }
}
