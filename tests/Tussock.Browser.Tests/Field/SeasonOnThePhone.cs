using System.Globalization;
using System.Text;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>A crew's season on a phone without a network, against the same season typed from paper.</summary>
[Collection("browser")]
public sealed class SeasonOnThePhone
{
    private const string Walker = "crew 1";
    private static readonly string[] Lines = ["T1", "T2"];
    private static readonly string[] Points = ["ENE", "S", "NNW", "W", "NE", "SSE"];
    private const int Stations = 6;

    [Fact]
    public async Task Twelve_nests_set_tallied_and_checked_offline_give_the_results_of_the_same_season_typed_from_paper()
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PictureAsync("start");
        await phone.PairAsync();
        await phone.KeptAsync();
        await phone.Context.SetOfflineAsync(true);
        await phone.ReloadAsync();
        await phone.WriteAsync("walker", Walker);
        await CalibrateAsync(phone);
        foreach (var line in Lines) await SetOutAsync(phone, line);
        foreach (var line in Lines) await TallyAsync(phone, line);
        await phone.ClockAsync("2026-05-18T15:30:00Z");
        await phone.ReloadAsync();
        await phone.GoAsync("today");
        Assert.Equal("12 nests are due", await phone.TextAsync("due"));
        await phone.PictureAsync("today");
        await CheckAsync(phone, day: 14);
        await phone.ClockAsync("2026-06-01T15:30:00Z");
        await phone.ReloadAsync();
        await phone.GoAsync("today");
        Assert.Equal("9 nests are due", await phone.TextAsync("due"));
        await CheckAsync(phone, day: 28);
        await phone.GoAsync("phone");
        await phone.PictureAsync("phone");
        await phone.Context.SetOfflineAsync(false);
        await phone.SendAsync();

        var paper = desk.At("paper.db");
        FieldDesk.Done("import", paper, desk.Written("typed", Typed()));
        Assert.Equal(FieldDesk.Results(paper), FieldDesk.Results(desk.Data));
        Assert.Empty(phone.Wrong);
    }

    private static async Task CalibrateAsync(Phone phone)
    {
        await phone.GoAsync("calibrate");
        await phone.WriteAsync("steps", "64");
        await phone.TapAsync("walk-done");
        await phone.WaitForAsync("step", "0.78 m a step");
        await phone.PictureAsync("calibrate");
    }

    private static async Task SetOutAsync(Phone phone, string line)
    {
        await phone.GoAsync("set-out", line);
        for (var n = 1; n <= Stations; n++)
        {
            await phone.Page.WaitForFunctionAsync("t => document.querySelector('h1').textContent.includes(t)", $"nest {n}");
            Assert.Contains(n % 2 == 1 ? "bunchgrass" : "shrub", await phone.TextAsync("turn"), StringComparison.Ordinal);
            await phone.TapAsync("take-fix");
            await phone.WaitForAsync("fix", "within 4 m");
            await phone.WriteAsync("steps", (20 + n).ToString(CultureInfo.InvariantCulture));
            await phone.TapAsync("rose-" + Points[n - 1]);
            await phone.Page.WaitForSelectorAsync($"#rose-{Points[n - 1]}[aria-pressed=true]");
            if (n == 2 && line == "T1") await phone.PictureAsync("set-out");
            await phone.TapAsync("nest-is-set");
        }

        await phone.Page.WaitForFunctionAsync("t => document.querySelector('h1').textContent.includes(t)", $"nest {Stations + 1}");
    }

    /// <summary>Two segments: 3 and 1 clumps, then none at all.</summary>
    private static async Task TallyAsync(Phone phone, string line)
    {
        await phone.GoAsync("tally", line);
        if (line == "T1") await phone.WriteAsync("arm-span", "1.8");
        for (var i = 0; i < 3; i++) await phone.TapAsync("half-0");
        await phone.TapAsync("half-1");
        await phone.WaitForAsync("half-1", "1");
        await phone.PictureAsync("tally");
        await phone.TapAsync("end-segment");
        await phone.WaitForAsync("end-segment", "segment 2");
        await phone.TapAsync("end-segment");
        await phone.WaitForAsync("end-segment", "segment 3");
    }

    /// <summary>On day 14 of T1 nest 3 is eaten, nest 5 trampled, and nest 2 of T2 eaten; on day 28 nest 4 of each line is not found.</summary>
    private static async Task CheckAsync(Phone phone, int day)
    {
        foreach (var line in Lines)
        {
            await phone.GoAsync("transect", line);
            if (line == "T1") await phone.PictureAsync("line-" + day.ToString(CultureInfo.InvariantCulture));
            for (var n = 1; n <= Stations; n++)
            {
                if (day == 28 && Fate(line, n) is not null) continue;
                await phone.GoAsync("transect", line);
                await phone.TapAsync($"nest-{n}");
                await phone.WaitForAsync("way", $"{20 + n} steps {Points[n - 1]} of flag {n}");
                if (n == 1 && line == "T1") await phone.PictureAsync("check-" + day.ToString(CultureInfo.InvariantCulture));
                if (day == 14 && Fate(line, n) is { } fate) await LostAsync(phone, fate);
                else if (day == 28 && n == 4) await NotFoundAsync(phone);
                else await IntactAsync(phone, day);
            }
        }
    }

    /// <summary>Three touches: the nest, intact, fresh eggs.</summary>
    private static async Task IntactAsync(Phone phone, int day)
    {
        await phone.TapAsync("intact");
        await phone.WaitForAsync("written", "Intact");
        if (day == 28) return;
        await phone.TapAsync("fresh-0");
        await phone.Page.WaitForSelectorAsync("#fresh-0[aria-pressed=true]");
    }

    private static async Task LostAsync(Phone phone, string fate)
    {
        await phone.HoldAsync("lost", 200);
        Assert.StartsWith("check", await phone.Page.GetAttributeAsync("#main", "class"), StringComparison.Ordinal);
        await phone.HoldAsync("lost");
        await phone.Page.WaitForSelectorAsync("#taken");
        if (fate != "depredated")
        {
            await phone.TapAsync("cause-0");
            await phone.Page.WaitForSelectorAsync("#cause-0[aria-pressed=true]");
            return;
        }

        await phone.TapAsync("taken");
        await phone.TapAsync("sign-shell_present-0");
        await phone.Page.WaitForSelectorAsync("#sign-shell_present-0[aria-pressed=true]");
        await phone.PictureAsync("lost");
    }

    private static async Task NotFoundAsync(Phone phone)
    {
        await phone.HoldAsync("cant-find");
        await phone.TapAsync("try_flag");
        await phone.WriteAsync("minutes", "12");
        await phone.TapAsync("because-0");
        await phone.PictureAsync("search");
        await phone.TapAsync("still-not-found");
        await phone.SettledAsync();
    }

    private static string? Fate(string line, int nest) => (line, nest) switch { ("T1", 3) or ("T2", 2) => "depredated", ("T1", 5) => "other_loss", _ => null };

    private static Dictionary<string, string> Typed()
    {
        StringBuilder nests = new(), visits = new(), remains = new(), belts = new();
        foreach (var line in Lines)
        {
            for (var n = 1; n <= Stations; n++)
            {
                var cover = n % 2 == 1 ? "bunchgrass" : "shrub";
                nests.Append(CultureInfo.InvariantCulture, $"{line},{n},{cover},2026-05-04,09:00,set,{cover},3,{20 + n},{Points[n - 1]},flag_to_nest,magnetic,31.451200,-99.203400,gps,4,{Walker}\n");
                Visits(visits, remains, line, n);
            }

            foreach (var (segment, cover, clumps) in new[] { (1, "bunchgrass", 3), (1, "shrub", 1), (2, "bunchgrass", 0), (2, "shrub", 0) })
                belts.Append(CultureInfo.InvariantCulture, $"{line},{segment},50,0.781,1.8,{cover},{clumps},2026-05-04,{Walker},counted\n");
        }

        var lines = string.Concat(Lines.Select(l => $"Invented ranch,North,{l},,{Walker},{Walker}\n"));
        return PlannedSeason.Files(lines, nests.ToString(), visits.ToString(), remains.ToString(), belts.ToString(), $"{Walker},50,64,2026-05-04\n");
    }

    private static void Visits(StringBuilder visits, StringBuilder remains, string line, int n)
    {
        var fate = Fate(line, n);
        visits.Append(CultureInfo.InvariantCulture, $"{line},{n},2026-05-18,10:30,{fate ?? "intact"},{Walker},{(fate is null ? "yes" : "")},{(fate == "other_loss" ? "trampled" : "")},,\n");
        if (fate == "depredated") remains.Append(CultureInfo.InvariantCulture, $"{line},{n},2026-05-18,shell_present,none,{Walker}\n");
        if (fate is null) visits.Append(CultureInfo.InvariantCulture, $"{line},{n},2026-06-01,10:30,{(n == 4 ? "not_relocated" : "intact")},{Walker},,,{(n == 4 ? "12,flag_gone" : ",")}\n");
    }
}
