using System.Globalization;
using System.Text;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>A whole summer with one phone and one pencil: practice, six stations of which the phone dies after the fourth, two checks, pick-up.</summary>
[Collection("browser")]
public sealed class WholeSummer
{
    private const string Walker = "crew 1";
    private const string Line = "T1";
    private const int Empty = 3;
    private const int Lost = 2;
    private const int OnThePhone = 4;
    private const int Stations = 6;
    private const int MostTouches = 3;
    private static readonly string[] Points = ["ENE", "S", "", "W", "NE", "SSE"];

    [Fact]
    public async Task One_phone_and_one_pencil_give_the_results_of_the_season_typed_from_paper()
    {
        using var desk = new FieldDesk(PlannedSeason.Files($"Invented ranch,North,{Line},,,\n"));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        await phone.KeptAsync();
        await phone.Context.SetOfflineAsync(true);
        await phone.ReloadAsync();
        await phone.WriteAsync("walker", Walker);
        await PractiseAsync(phone);
        for (var n = 1; n <= OnThePhone; n++) await SetOutAsync(phone, n);

        // The phone dies; the last two stations are on the sheet, and typed at the desk that evening.
        await phone.DieAsync(desk.Address);
        var sheet = PlannedSeason.Files($"Invented ranch,North,{Line},,{Walker},{Walker}\n", string.Concat(Enumerable.Range(1, Stations).Where(n => n > OnThePhone).Select(Nest)));
        FieldDesk.Done("import", desk.Data, desk.Written("sheet", sheet), "--apply");
        await phone.Context.SetOfflineAsync(false);
        await phone.SendAsync();
        Assert.Equal("set set no_clump set set set", await StationsAsync(phone, "status", "1 2 3 4 5 6"));
        await phone.Context.SetOfflineAsync(true);

        await CheckAsync(phone, "2026-05-18T15:30:00Z", 14);
        await CheckAsync(phone, "2026-06-01T15:30:00Z", 28);
        await PickUpAsync(phone);
        await phone.Context.SetOfflineAsync(false);
        await phone.SendAsync();

        var paper = desk.At("paper.db");
        FieldDesk.Done("import", paper, desk.Written("typed", Typed()));
        Assert.Equal(FieldDesk.Results(paper), FieldDesk.Results(desk.Data));
        Assert.Equal("1 2 3 4 5 6", await StationsAsync(phone, "nest", "1 2 3 4 5 6"));
        Assert.Contains("flag", FieldDesk.Done("inspect", desk.Data), StringComparison.Ordinal);
        Assert.Empty(phone.Wrong);
    }

    /// <summary>Three known nests, the second one lost: three of three. None of it is a record.</summary>
    private static async Task PractiseAsync(Phone phone)
    {
        await phone.GoAsync("practice");
        string[] lies = ["intact", "lost", "intact"];
        for (var n = 1; n <= lies.Length; n++)
        {
            await phone.WaitForAsync("practice-nest", $"Nest {n}");
            await phone.WriteAsync("steps", (10 + n).ToString(CultureInfo.InvariantCulture));
            await phone.TapAsync("rose-" + Points[n == 3 ? 0 : n - 1]);
            if (lies[n - 1] == "lost") await phone.TapAsync("lies-1");
            await phone.PictureAsync("practice");
            await phone.TapAsync("laid");
        }

        await phone.ReloadAsync();
        for (var n = 1; n <= lies.Length; n++)
        {
            await phone.WaitForAsync("practice-nest", $"Nest {n}");
            await phone.WaitForAsync("way", $"{10 + n} steps");
            await phone.TapAsync("found-" + lies[n - 1]);
        }

        await phone.WaitForAsync("practice-end", "3 of 3");
        await phone.PictureAsync("practice-end");
        Assert.Equal(0, await phone.Page.EvaluateAsync<int>("async () => { const { PhoneLog } = await import('./log/phone-log.js'); const log = await PhoneLog.open(), count = log.outbox.length; log.close(); return count; }"));
    }

    private static async Task SetOutAsync(Phone phone, int n)
    {
        await phone.GoAsync("transect", Line);
        await phone.TapAsync("to-set-out");
        await phone.Page.WaitForFunctionAsync("t => document.querySelector('h1').textContent.includes(t)", $"nest {n}");
        await phone.TapAsync("take-fix");
        await phone.WaitForAsync("fix", "within 4 m");
        if (n == Empty)
        {
            await phone.TapAsync("no-clump");
            await phone.Page.WaitForSelectorAsync("#to-set-out");
            return;
        }

        await phone.WriteAsync("steps", (20 + n).ToString(CultureInfo.InvariantCulture));
        await phone.TapAsync("rose-" + Points[n - 1]);
        await phone.Page.WaitForSelectorAsync($"#rose-{Points[n - 1]}[aria-pressed=true]");
        await phone.TapAsync("nest-is-set");
        await phone.Page.WaitForFunctionAsync("t => document.querySelector('h1').textContent.includes(t)", $"nest {n + 1}");
    }

    private static async Task CheckAsync(Phone phone, string now, int day)
    {
        await phone.ClockAsync(now);
        await phone.ReloadAsync();
        await phone.GoAsync("today");
        Assert.Equal(day == 14 ? "5 nests are due" : "4 nests are due", await phone.TextAsync("due"));
        for (var n = 1; n <= Stations; n++)
        {
            if (n == Empty || (n == Lost && day > 14)) continue;
            await phone.GoAsync("transect", Line);
            await phone.Page.EvaluateAsync("() => { window.touches = 0; window.counting ??= addEventListener('click', () => { window.touches++; }, true) ?? true; }");
            await phone.TapAsync($"nest-{n}");
            await phone.WaitForAsync("way", $"{20 + n} steps {Points[n - 1]} of flag {n}");
            if (n == Lost) await LoseAsync(phone);
            else await IntactAsync(phone, day);
        }
    }

    private static async Task IntactAsync(Phone phone, int day)
    {
        await phone.TapAsync("intact");
        await phone.WaitForAsync("written", "Intact");
        if (day == 14)
        {
            await phone.TapAsync("fresh-0");
            await phone.Page.WaitForSelectorAsync("#fresh-0[aria-pressed=true]");
        }

        Assert.InRange(await phone.Page.EvaluateAsync<int>("() => window.touches"), 2, MostTouches);
    }

    private static async Task LoseAsync(Phone phone)
    {
        await phone.HoldAsync("lost");
        await phone.Page.WaitForSelectorAsync("#taken");
        await phone.TapAsync("taken");
        await phone.TapAsync("sign-shell_present-0");
        await phone.Page.WaitForSelectorAsync("#sign-shell_present-0[aria-pressed=true]");
    }

    private static async Task PickUpAsync(Phone phone)
    {
        await phone.GoAsync("pick-up", Line);
        Assert.Equal("6", await phone.Page.InputValueAsync("#flags-out"));
        await phone.WriteAsync("flags-in", "5");
        await phone.WriteAsync("washers-in", "5");
        await phone.WaitForAsync("left", "One flag is still out. All washers are in.");
        await phone.PictureAsync("pick-up");
        await phone.TapAsync("pick-up-done");
        await phone.SettledAsync();
    }

    /// <summary>A field of the line's stations, in the order of the numbers given; each number must stand there once.</summary>
    private static Task<string> StationsAsync(Phone phone, string field, string numbers) => phone.Page.EvaluateAsync<string>("""
        async ([field, numbers]) => {
          const { PhoneLog } = await import('./log/phone-log.js'), log = await PhoneLog.open(), all = log.all('nests');
          log.close();
          if (all.length !== numbers.split(' ').length) throw new Error(all.length + ' stations');
          return numbers.split(' ').map(n => all.filter(r => r.fields.nest.value === n).map(r => r.fields[field]?.value ?? '').join('+')).join(' ');
        }
        """, new[] { field, numbers });

    private static string Nest(int n)
    {
        var cover = n % 2 == 1 ? "bunchgrass" : "shrub";
        return n == Empty
            ? $"{Line},{n},,2026-05-04,,no_clump,{cover},,,,,,31.451200,-99.203400,gps,4,\n"
            : string.Create(CultureInfo.InvariantCulture, $"{Line},{n},{cover},2026-05-04,09:00,set,{cover},3,{20 + n},{Points[n - 1]},flag_to_nest,magnetic,31.451200,-99.203400,gps,4,{Walker}\n");
    }

    private static Dictionary<string, string> Typed()
    {
        var visits = new StringBuilder();
        for (var n = 1; n <= Stations; n++)
        {
            if (n == Empty) continue;
            visits.Append(CultureInfo.InvariantCulture, $"{Line},{n},2026-05-18,10:30,{(n == Lost ? "depredated" : "intact")},{Walker},{(n == Lost ? "" : "yes")},,,\n");
            if (n != Lost) visits.Append(CultureInfo.InvariantCulture, $"{Line},{n},2026-06-01,10:30,intact,{Walker},,,,\n");
        }

        var files = PlannedSeason.Files("", string.Concat(Enumerable.Range(1, Stations).Select(Nest)), visits.ToString(), $"{Line},{Lost},2026-05-18,shell_present,none,{Walker}\n");
        files["transects.csv"] = $"property,pasture,transect,set_on,observer,paced_by,flags_out,flags_in,washers_out,washers_in,picked_up_on\nInvented ranch,North,{Line},,{Walker},{Walker},6,5,5,5,2026-06-01\n";
        return files;
    }

}
