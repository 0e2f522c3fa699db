using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using System.Text;
using Tussock.Exchange.Calendar;
using Tussock.Exchange.Places;
using Tussock.Workdays;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary><c>tussock schedule</c>: who sets out and checks which line on which day.</summary>
internal static class ScheduleCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = SharedOptions.Data(screen);
        var season = SharedOptions.Season(screen);
        var from = new Option<DateOnly?>("--from") { Description = screen.Words.Say("help.schedule.from"), HelpName = "DATE", Required = true, CustomParser = r => r.Tokens.Count == 1 && ClosedDays.Date(r.Tokens[0].Value) is { } d ? d : Wrong<DateOnly?>(screen, r, "help.schedule.date_wrong") };
        var crews = Count(screen, "--crews", "help.schedule.crews", 1);
        var newCrews = Count(screen, "--new-crews", "help.schedule.new_crews", 0);
        var hours = new Option<(TimeOnly Begin, TimeOnly End)>("--hours")
        {
            Description = screen.Words.Say("help.schedule.hours"),
            HelpName = "HH:MM-HH:MM",
            DefaultValueFactory = _ => (new TimeOnly(6, 30), new TimeOnly(11, 30)),
            CustomParser = r => r.Tokens.Count == 1 && r.Tokens[0].Value.Split('-') is [var a, var b] && Time(a) is { } begin && Time(b) is { } end && begin < end ? (begin, end) : Wrong<(TimeOnly, TimeOnly)>(screen, r, "help.schedule.hours_wrong"),
        };
        var closed = new Option<ImmutableHashSet<DateOnly>>("--closed")
        {
            Description = screen.Words.Say("help.schedule.closed"),
            HelpName = "DATES",
            DefaultValueFactory = _ => [],
            CustomParser = r =>
            {
                var days = r.Tokens.SelectMany(t => t.Value.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)).Select(ClosedDays.Of).ToArray();
                return Array.TrueForAll(days, d => d is not null) ? [.. days.SelectMany(d => d!)] : Wrong<ImmutableHashSet<DateOnly>>(screen, r, "help.schedule.closed_wrong") ?? [];
            },
        };
        var setOut = Minutes(screen, "--set-out-minutes", "help.schedule.set_out", 10);
        var check = Minutes(screen, "--check-minutes", "help.schedule.check", 5);
        var moving = Minutes(screen, "--moving-minutes", "help.schedule.moving", 20);
        var between = new Option<double?>("--metres-a-minute")
        {
            Description = screen.Words.Say("help.schedule.between"),
            HelpName = "METRES",
            CustomParser = r => r.Tokens.Count == 1 && double.TryParse(r.Tokens[0].Value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var x) && x is >= 10 and <= 2000 ? x : Wrong<double?>(screen, r, "help.schedule.between_wrong"),
        };
        var calendar = new Option<string?>("--calendar") { Description = screen.Words.Say("help.schedule.calendar"), HelpName = "FILE.ics" };
        var overwrite = new Option<bool>("--overwrite") { Description = screen.Words.Say("help.export.overwrite") };
        var at = SharedOptions.At(screen);
        var command = new Command("schedule", screen.Words.Say("help.schedule")) { data, season, from, crews, newCrews, hours, closed, setOut, check, moving, between, calendar, overwrite, at };
        command.Validators.Add(parsed =>
        {
            if (parsed.Errors.Any()) return;
            // Defaults are not there yet while the line is looked through.
            var (all, some) = (parsed.GetResult(crews) is { Tokens.Count: > 0 } ? parsed.GetValue(crews) : 1, parsed.GetResult(newCrews) is { Tokens.Count: > 0 } ? parsed.GetValue(newCrews) : 0);
            if (all is < 1 or > 20 || some < 0 || some > all) parsed.AddError(screen.Words.Say("help.schedule.crews_wrong"));
        });
        command.SetAction(parsed =>
        {
            var (read, problems) = SeasonSource.Season(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            if (read is null) return screen.Refuse(problems);
            var (begin, end) = parsed.GetValue(hours);
            var rules = new WorkRules(parsed.GetValue(from)!.Value)
            {
                Crews = parsed.GetValue(crews),
                NewCrews = parsed.GetValue(newCrews),
                Begin = begin,
                End = end,
                Closed = parsed.GetValue(closed)!,
                SetOutMinutes = parsed.GetValue(setOut),
                CheckMinutes = parsed.GetValue(check),
                MovingMinutes = parsed.GetValue(moving),
                BetweenMetresAMinute = parsed.GetValue(between),
            };
            var plan = WorkPlan.Of(read, rules);
            Say(screen, plan);
            foreach (var sun in SunWords.Of(read, plan, rules)) screen.Out.WriteLine(screen.Words.Say(sun));
            if (parsed.GetValue(calendar) is { } file)
            {
                var text = WorkCalendar.Of(read, plan, parsed.GetValue(at) ?? DateTimeOffset.UtcNow, screen.Words);
                var wrong = MapFiles.Write(file, parsed.GetValue(overwrite), s => s.Write(Encoding.UTF8.GetBytes(text)));
                if (!wrong.IsEmpty) return screen.Refuse(wrong);
                screen.Out.WriteLine(file);
            }

            return plan.Missed.IsEmpty ? Exit.Done : Exit.AtFault;
        });
        return command;
    }

    private static void Say(Screen screen, WorkPlan plan)
    {
        foreach (var day in plan.Works.GroupBy(w => (w.On, w.Crew)))
        {
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("workdays.day", ("weekday", screen.Words.Say("sheets.weekday." + Numbers.Whole((int)day.Key.On.DayOfWeek))), ("on", day.Key.On), ("crew", day.Key.Crew), ("metres", Math.Round(day.Sum(w => w.WalkM))))));
            foreach (var work in day) screen.Out.WriteLine("  " + WorkWords.Clock(work.From) + "–" + WorkWords.Clock(work.To) + " " + screen.Words.Say(WorkWords.What(work)));
        }

        if (plan.Works.IsEmpty) screen.Out.WriteLine(screen.Words.Say("workdays.nothing"));
        foreach (var missed in plan.Missed) screen.Err.WriteLine(screen.Words.Say(Phrase.Of(missed.CheckDay == 0 ? "workdays.missed_set_out" : "workdays.missed", ("line", missed.Line.Name), ("day", missed.CheckDay), ("why", missed.Why))));
        screen.Err.WriteLine(screen.Words.Say("workdays.care"));
    }

    private static T? Wrong<T>(Screen screen, System.CommandLine.Parsing.ArgumentResult result, string key)
    {
        result.AddError(screen.Words.Say(key));
        return default;
    }

    private static Option<int> Count(Screen screen, string option, string help, int usual) => new(option) { Description = screen.Words.Say(help), HelpName = "N", DefaultValueFactory = _ => usual };

    private static Option<double> Minutes(Screen screen, string option, string help, double usual) => new(option)
    {
        Description = screen.Words.Say(help),
        HelpName = "MINUTES",
        DefaultValueFactory = _ => usual,
        CustomParser = r => r.Tokens.Count == 1 && double.TryParse(r.Tokens[0].Value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var x) && x is > 0 and <= 600 ? x : Wrong<double>(screen, r, "help.schedule.minutes_wrong"),
    };

    private static TimeOnly? Time(string text) => TimeOnly.TryParseExact(text.Trim(), "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? time : null;
}
