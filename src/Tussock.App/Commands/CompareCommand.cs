using System.Buffers;
using System.Collections.Immutable;
using System.CommandLine;
using Tussock.Reports;
using Tussock.Reports.OverYears;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Years;

namespace Tussock.App.Commands;

/// <summary><c>tussock compare</c>: the seasons of DATA beside each other, pasture by pasture, and all properties together.</summary>
internal static class CompareCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = SharedOptions.Data(screen);
        var property = new Option<string?>("--property") { Description = screen.Words.Say("help.compare.property"), HelpName = "NAME" };
        var against = new Option<string?>("--against") { Description = screen.Words.Say("help.compare.against"), HelpName = "YEAR" };
        var network = new Option<bool>("--network") { Description = screen.Words.Say("help.compare.network") };
        var action = new Option<string?>("--action") { Description = screen.Words.Say("help.compare.action"), HelpName = "KIND" };
        var folder = new Option<string?>("--out") { Description = screen.Words.Say("help.compare.out"), HelpName = "FOLDER" };
        var json = SharedOptions.Json(screen);
        var at = SharedOptions.At(screen);
        var command = new Command("compare", screen.Words.Say("help.compare")) { data, property, against, network, action, folder, json, at };
        command.Validators.Add(result =>
        {
            if (result.GetValue(network) && result.GetValue(property) is not null) result.AddError(screen.Words.Say("help.compare.network_alone"));
            if (result.GetValue(action) is not null && (result.GetValue(network) || result.GetValue(property) is not null || result.GetValue(against) is not null || result.GetValue(folder) is not null)) result.AddError(screen.Words.Say("help.compare.action_alone"));
        });
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(action) is { } kind) return ActionRun.Of(screen, parsed.GetValue(data)!, kind, parsed.GetValue(json), parsed.GetValue(at), cancel);
            YearsRead read;
            using (var progress = new Progress(screen, "app.computing")) read = YearsSource.Read(parsed.GetValue(data)!, !parsed.GetValue(network), progress.Report, cancel);
            if (!read.Problems.IsEmpty) return screen.Refuse(read.Problems);
            var wrong = Wrong(read, parsed.GetValue(property), parsed.GetValue(against));
            if (!wrong.IsEmpty) return screen.Refuse(wrong);
            if (parsed.GetValue(network) && !read.Stopped.IsEmpty) screen.Err.WriteLine(screen.Words.Say(Phrase.Of("years.stopped_some", ("seasons", read.Stopped.Length))));
            else foreach (var (season, first) in read.Stopped) screen.Err.WriteLine(Sentences.Sentence(screen.Words.Say(Phrase.Of("years.stopped", ("season", season), ("why", first.What)))));
            var own = parsed.GetValue(property);
            var years = YearsCompared.Of(read.Years, y => !parsed.GetValue(network) && (own is null || y.Property == own), parsed.GetValue(against));
            if (parsed.GetValue(folder) is { } to)
            {
                var making = new ReportMaking(SharedOptions.Version, 1, DateOnly.FromDateTime((parsed.GetValue(at) ?? DateTimeOffset.UtcNow).UtcDateTime), ReportCommand.Position(parsed.GetValue(data)!));
                PrintedPages.Write(YearsPages.Of(years, making, screen.Words), to, Paper.Letter, screen, cancel);
            }
            else if (parsed.GetValue(json)) WriteJson(screen, years, parsed.GetValue(network), parsed.GetValue(at));
            else CompareText.Write(years, parsed.GetValue(network), parsed.GetValue(property), screen.Words, screen.Out);
            return Exit.Done;
        });
        return command;
    }

    private static ImmutableArray<Problem> Wrong(YearsRead read, string? property, string? against)
    {
        var properties = read.Years.Select(y => y.Property).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
        var labels = read.Years.SelectMany(y => (string[])[y.Label, y.Conduct.Season]).ToHashSet(StringComparer.Ordinal);
        if (property is not null && !properties.Contains(property)) return [Refused("years.no_such_property", ("property", property), ("properties", properties))];
        if (against is not null && !labels.Contains(against)) return [Refused("years.no_such_year", ("year", against), ("years", read.Years.Select(y => y.Label).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray()))];
        if (read.Years.IsEmpty) return [Refused("years.nothing")];
        return [];
    }

    private static Problem Refused(string key, params ReadOnlySpan<(string, object)> arguments) => new("years_asked", Severity.Stop, new Place("DATA"), Phrase.Of(key, arguments), Phrase.Of(key + "_todo"));

    private static void WriteJson(Screen screen, YearsCompared years, bool networkOnly, DateTimeOffset? at)
    {
        var buffer = new ArrayBufferWriter<byte>(1 << 16);
        CompareDocument.Write(years, networkOnly, SharedOptions.Made(1, at), screen.Words, buffer);
        screen.WriteBytes(buffer.WrittenSpan);
    }
}
