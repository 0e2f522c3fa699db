using System.Text.Json;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>Each screen as a gloved thumb and tired eyes meet it: targets, contrast, nothing cut off, at the sizes and texts that phones have.</summary>
[Collection("browser")]
public sealed class FieldScreens
{
    /// <summary>Targets under 48 px (findings under 72), text under 7 : 1, anything wider than the screen, elements without a name.</summary>
    private const string WhatIsWrong = """
        () => {
          const wrong = [], say = e => e.tagName + '#' + e.id + ' ' + (e.textContent || e.value || '').trim().slice(0, 30);
          const channel = c => { c /= 255; return c <= .04045 ? c / 12.92 : ((c + .055) / 1.055) ** 2.4; };
          const parse = c => (c.match(/[\d.]+/g) ?? []).map(Number), light = c => .2126 * channel(c[0]) + .7152 * channel(c[1]) + .0722 * channel(c[2]);
          const behind = e => { for (let x = e; x; x = x.parentElement) { const c = parse(getComputedStyle(x).backgroundColor); if (c.length === 3 || c[3] > 0) return c; } return [255, 255, 255]; };
          const shown = e => { const r = e.getBoundingClientRect(), s = getComputedStyle(e); return r.width > 1 && r.height > 1 && s.visibility !== 'hidden' && s.opacity !== '0'; };
          if (document.documentElement.scrollWidth > innerWidth + 1) wrong.push('wider than the screen: ' + document.documentElement.scrollWidth + ' in ' + innerWidth);
          for (const e of document.querySelectorAll('button, a, input, summary, label.button')) {
            if (!shown(e)) continue;
            const r = e.getBoundingClientRect(), least = e.closest('.findings') || e.classList.contains('big') ? 72 : 48;
            if (r.width < 47.5 || r.height < least - .5) wrong.push(`small ${Math.round(r.width)} x ${Math.round(r.height)}: ` + say(e));
            if (e.tagName === 'INPUT' && !e.labels.length) wrong.push('no label: ' + say(e));
            if (e.tagName === 'BUTTON' && !(e.textContent.trim() || e.getAttribute('aria-label'))) wrong.push('no name: ' + say(e));
          }
          for (const e of document.querySelectorAll('body *')) {
            if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) || !shown(e)) continue;
            const [a, b] = [light(parse(getComputedStyle(e).color)), light(behind(e))].sort((x, y) => y - x), ratio = (a + .05) / (b + .05);
            if (ratio < 7) wrong.push(`contrast ${ratio.toFixed(1)}: ` + say(e));
          }
          if (document.querySelectorAll('h1').length !== 1) wrong.push('not one heading');
          if (new Set([...document.querySelectorAll('[id]')].map(e => e.id)).size !== document.querySelectorAll('[id]').length) wrong.push('an id stands twice');
          return wrong.slice(0, 6);
        }
        """;

    private static readonly (string Name, int Width, int Height, ColorScheme Scheme, ForcedColors Forced, bool Big)[] Looks =
    [
        ("light", 390, 844, ColorScheme.Light, ForcedColors.None, false), ("dark", 390, 844, ColorScheme.Dark, ForcedColors.None, false), ("landscape", 844, 390, ColorScheme.Light, ForcedColors.None, false),
        ("narrow", 320, 640, ColorScheme.Light, ForcedColors.None, false), ("big", 390, 844, ColorScheme.Light, ForcedColors.None, true), ("desk", 1280, 800, ColorScheme.Light, ForcedColors.None, false),
        ("contrast", 390, 844, ColorScheme.Dark, ForcedColors.Active, false),
    ];

    /// <summary>The rules of axe-core 4.14 that are on by themselves, and the stricter contrast (7 : 1), which is not. Targets are held to 48 and 72 px above: axe's own rule asks for 24, and counts what a sticking bar hides until one scrolls.</summary>
    private static readonly AxeRunOptions Rules = new() { Rules = new Dictionary<string, RuleOptions> { ["color-contrast-enhanced"] = new() { Enabled = true }, ["target-size"] = new() { Enabled = false } } };

    /// <summary>What axe looks at is the same at most sizes: all of them in long runs, else light, dark and narrow, and in the second language light. Our own script looks at all of them always.</summary>
    private static bool IsForAxe(string name, string look) => Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1" || look == "light" || (look is "dark" or "narrow" && !name.StartsWith("es-", StringComparison.Ordinal));

    [Theory]
    [InlineData("en")]
    [InlineData("es")]
    public async Task Every_screen_has_big_targets_clear_text_and_nothing_cut_off_at_every_size(string language)
    {
        using var desk = new FieldDesk(PlannedSeason.Files(
            "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n",
            "T1,1,bunchgrass,2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,magnetic,31.4512,-99.2034,gps,4,crew 1\nT1,2,shrub,2026-05-04,09:20,set,shrub,3,17,NE,,magnetic,31.4516,-99.2034,gps,4,crew 1\n"));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-05-18T14:00:00Z");
        var wrong = await LookAsync(phone, "start", ["start"]);
        await phone.PairAsync();
        await phone.GoAsync("phone");
        await phone.TapAsync(language == "en" ? "language-0" : "language-1");
        await phone.Page.WaitForFunctionAsync("l => document.documentElement.lang === l", language);
        await phone.GoAsync("today");
        await phone.WriteAsync("walker", "crew 1");
        var nest = await phone.Page.EvaluateAsync<string>("async () => { const { PhoneLog } = await import('./log/phone-log.js'); const log = await PhoneLog.open(); return log.all('nests').find(n => n.fields.nest.value === '2').id; }");
        foreach (var route in new string[][] { ["today"], ["transect", "T1"], ["set-out", "T1"], ["check", nest], ["lost", nest], ["search", nest], ["tally", "T1"], ["calibrate"], ["pick-up", "T1"], ["real-nest"], ["practice"], ["reading"], ["phone"] })
        {
            await phone.GoAsync(route);
            if (route[0] == "tally") await phone.WriteAsync("arm-span", "1.8");
            if (route[0] == "lost") await phone.TapAsync("taken");
            await phone.SettledAsync();
            wrong.AddRange(await LookAsync(phone, language + "-" + route[0], route));
        }

        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.Empty(phone.Wrong);
    }

    /// <summary>What is wrong with the open screen at the looks that are named, or at all.</summary>
    internal static async Task<List<string>> LookAsync(Phone phone, string name, string[] route, params string[] only)
    {
        List<string> wrong = [];
        foreach (var look in Looks.Where(l => only.Length == 0 || only.Contains(l.Name)))
        {
            await phone.Page.SetViewportSizeAsync(look.Width, look.Height);
            await phone.Page.EmulateMediaAsync(new() { ColorScheme = look.Scheme, ForcedColors = look.Forced, ReducedMotion = ReducedMotion.Reduce });
            await phone.Page.EvaluateAsync("big => { document.documentElement.style.fontSize = big ? '200%' : ''; }", look.Big);
            await phone.SettledAsync();
            wrong.AddRange((await phone.Page.EvaluateAsync<string[]>(WhatIsWrong)).Select(w => $"{route[0]}, {look.Name}: {w}"));
            if (IsForAxe(name, look.Name)) wrong.AddRange((await phone.Page.RunAxe(Rules)).Violations.SelectMany(v => v.Nodes.Select(n => $"{route[0]}, {look.Name}: {v.Id}: {v.Help}: {n.Html}")));
            await phone.PictureAsync(name + "-" + look.Name);
        }

        await phone.Page.EvaluateAsync("() => { document.documentElement.style.fontSize = ''; }");
        await phone.Page.SetViewportSizeAsync(390, 844);
        await phone.Page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light, ForcedColors = ForcedColors.None });
        return wrong;
    }

    /// <summary>Crew 1 wrote "17 NE" and no sense; crew 2 finds the nest at the second place.</summary>
    [Fact]
    public async Task A_nest_without_a_sense_has_two_places_and_one_touch_settles_it_and_undo_takes_it_back()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(
            "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n",
            "T1,1,bunchgrass,2026-05-04,09:00,set,bunchgrass,3,12,S,,magnetic,,,,,crew 1\nT1,2,shrub,2026-05-04,09:20,set,shrub,3,17,NE,,magnetic,31.4516,-99.2034,gps,4,crew 1\n",
            crew: "crew 1,78,100,2026-05-01\n"));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-05-18T14:00:00Z");
        await phone.PairAsync();
        await phone.KeptAsync();
        await phone.Context.SetOfflineAsync(true);
        var places = await phone.Page.EvaluateAsync<JsonElement>("async () => { const { places } = await import('./wayback/way.js'); return places({ legs: [{ steps: 17, direction: 'NE' }], sense: '', isMagnetic: true }, 0.78, 5).map(p => [p.sense, p.distance, p.bearing]); }");
        Assert.Equal(["flag_to_nest", "nest_to_flag"], places.EnumerateArray().Select(p => p[0].GetString()));
        Assert.All(places.EnumerateArray(), p => Assert.Equal(13.26, p[1].GetDouble(), 0.001));
        Assert.Equal([50, 230], places.EnumerateArray().Select(p => Math.Round(p[2].GetDouble(), 6)));
        await phone.GoAsync("transect", "T1");
        await phone.TapAsync("nest-2");
        await phone.WaitForAsync("way", "17 steps");
        await phone.TapAsync("found-2");
        await phone.Page.WaitForSelectorAsync("#found-2", new() { State = WaitForSelectorState.Detached });
        await phone.WaitForAsync("way", "SW");
        await phone.WaitForAsync("sense-offer", "one more nest");
        await phone.TapAsync("sense-offer");
        await phone.Page.WaitForSelectorAsync("#sense-offer", new() { State = WaitForSelectorState.Detached });
        await phone.TapAsync("undo");
        await phone.Page.WaitForSelectorAsync("#sense-offer");
        await phone.TapAsync("undo");
        await phone.Page.WaitForSelectorAsync("#found-2");
    }

    [Fact]
    public async Task Keys_alone_write_a_finding_and_a_lost_nest_is_held_by_key()
    {
        using var desk = new FieldDesk(PlannedSeason.Files("Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n", "T1,1,bunchgrass,2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,magnetic,,,,,crew 1\n"));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-05-18T14:00:00Z");
        await phone.PairAsync();
        await phone.GoAsync("transect", "T1");
        await phone.Page.FocusAsync("#nest-1");
        await phone.Page.Keyboard.PressAsync("Enter");
        await phone.Page.WaitForSelectorAsync("#lost");
        await phone.Page.FocusAsync("#lost");
        await phone.Page.Keyboard.PressAsync("Enter");
        await phone.SettledAsync();
        Assert.True(await phone.Page.IsVisibleAsync("#lost"));
        await phone.Page.Keyboard.DownAsync("Enter");
        await phone.Page.WaitForSelectorAsync("#taken");
        await phone.Page.Keyboard.UpAsync("Enter");
    }

    [Fact]
    public async Task A_flag_left_out_there_is_said_at_pick_up()
    {
        using var desk = new FieldDesk(PlannedSeason.Files("Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n", string.Concat(Enumerable.Range(1, 6).Select(n => $"T1,{n},shrub,2026-05-04,09:00,{(n == 3 ? "no_clump" : "set")},shrub,3,21,ENE,flag_to_nest,magnetic,,,,,crew 1\n"))));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-06-01T14:00:00Z");
        await phone.PairAsync();
        await phone.GoAsync("pick-up", "T1");
        await phone.WriteAsync("flags-in", "5");
        await phone.WriteAsync("washers-in", "5");
        await phone.WaitForAsync("left", "One flag is still out. All washers are in.");
        await phone.TapAsync("pick-up-done");
        await phone.SendAsync();
        Assert.Contains("flag", FieldDesk.Done("inspect", desk.Data), StringComparison.Ordinal);
    }
}
