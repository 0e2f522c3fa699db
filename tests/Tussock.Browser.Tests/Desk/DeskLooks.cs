using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>Each page of the desk at each width, by day and by night: nothing wider than the window, nothing that axe finds, everything reached by keys alone.</summary>
[Collection("browser")]
public sealed class DeskLooks
{
    private static readonly (string Name, string Path)[] Pages =
    [
        ("home", "/"), ("worklist", "/worklist"), ("map", "/map"), ("visits", "/records/visits"), ("nests", "/records/nests?text=C1"), ("results", "/results"), ("curve", "/results/curve"), ("why", "/why/counted-share"), ("reports", "/reports"), ("years", "/years"), ("years-network", "/years/network"), ("years-actions", "/years/actions"), ("old", "/old"), ("sheets", "/sheets"), ("quick", "/quick?lines=5%2F6+4%2F6&clumps=12+9&area=0.1+acre"), ("people", "/people"), ("plan", "/plan?transects=6&nests=8&pastures=1&survival_percent=40&transect_sd=0.7&clumps_per_acre=250&density_cv=0.4&not_relocated_percent=0&late_days=0&benchmark_percent=50&seed=1&designs=yes&curves=yes"), ("plan-lines", "/plan/lines?transects=2&nests=5&separation_m=100&from_edges_m=0&from_roads_m=0&from_water_m=0&from_zones_m=0&steps_between=50&seed=7"), ("plan-days", "/plan/days?from=2026-05-18&crews=1&new_crews=0&begin=06:30&end=11:30&set_out_minutes=10&check_minutes=5&moving_minutes=20"), ("plan-supplies", "/plan/supplies"), ("practice", "/plan/practice?code=6-8-14B-BX0G0MNA754YZZS"), ("cases", "/cases"), ("nothing", "/nothing"),
    ];

    private static readonly (int Width, ColorScheme Scheme)[] Looks = [(320, ColorScheme.Light), (768, ColorScheme.Dark), (1280, ColorScheme.Light), (2560, ColorScheme.Light)];

    /// <summary>What is wider than the window, and things of one row that lie over each other.</summary>
    internal const string WhatIsWrong = """
        () => {
          const wrong = [], say = e => e.tagName + '.' + e.className + '#' + e.id + ' ' + (e.textContent || '').trim().slice(0, 30);
          if (document.documentElement.scrollWidth > innerWidth + 1) wrong.push('wider than the window: ' + document.documentElement.scrollWidth);
          const pressed = [...document.querySelectorAll('main button, main a, main input:not([type=hidden]), main select, header a')].filter(e => e.getClientRects().length && !e.closest('#map')).map(e => [e, e.getBoundingClientRect()]);
          for (let i = 0; i < pressed.length; i++) for (let j = i + 1; j < Math.min(pressed.length, i + 12); j++) {
            const [a, b] = [pressed[i][1], pressed[j][1]], wide = Math.min(a.right, b.right) - Math.max(a.left, b.left), high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
            if (wide > 2 && high > 2 && !pressed[i][0].contains(pressed[j][0]) && !pressed[i][0].closest('.bar') && !pressed[j][0].closest('.bar')) wrong.push('over: ' + say(pressed[i][0]) + ' / ' + say(pressed[j][0]));
          }
          // Pictures stand on white in the dark too; what finds contrast does not look into them.
          if ([...document.querySelectorAll('.chapter svg text')].some(e => e.textContent.trim() && getComputedStyle(e).fill.match(/\d+/g).slice(0, 3).every(c => Number(c) > 180))) wrong.push('pale words in a picture');
          if (document.querySelectorAll('h1').length !== 1) wrong.push('not one heading');
          if (new Set([...document.querySelectorAll('[id]')].map(e => e.id)).size !== document.querySelectorAll('[id]').length) wrong.push('an id stands twice');
          return wrong.slice(0, 6);
        }
        """;

    [Fact]
    public async Task Every_page_is_whole_at_every_width_and_axe_finds_nothing()
    {
        await using var desk = await DeskWindow.OpenAsync();
        List<string> wrong = [];
        await desk.GoAsync("/map");
        var boundary = await desk.Page.GetAttributeAsync("a[href^='/boundary/']", "href");
        await desk.GoAsync("/records/visits");
        var visit = await desk.Page.GetAttributeAsync("a[href^='/record/']", "href");
        foreach (var (name, path) in Pages.Append(("boundary", boundary!)).Append(("why-pasture", boundary!.Replace("/boundary/", "/why/pasture/", StringComparison.Ordinal))).Append(("record", visit!)))
        {
            await desk.GoAsync(path);
            wrong.AddRange(await LookAsync(desk, name));
        }

        // The page that is not there says so with its status; the browser notes that in its console.
        Assert.DoesNotContain(desk.Wrong, w => !w.Contains("404", StringComparison.Ordinal));
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    /// <summary>One look at the dark page in usual runs, where contrast is hardest; the narrow light one too with --long.</summary>
    private static bool IsForAxe(int width) => width == 768 || (width == 320 && Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1");

    /// <summary>What is wrong with the page in the window, at every width.</summary>
    internal static async Task<List<string>> LookAsync(DeskWindow desk, string name)
    {
        List<string> wrong = [];
        foreach (var (width, scheme) in Looks)
        {
            await desk.Page.SetViewportSizeAsync(width, 900);
            await desk.Page.EmulateMediaAsync(new() { ColorScheme = scheme, ReducedMotion = ReducedMotion.Reduce });
            wrong.AddRange((await desk.Page.EvaluateAsync<string[]>(WhatIsWrong)).Select(w => $"{name} at {width}: {w}"));
            await desk.PictureAsync($"desk-{name}-{width}");
            if (!IsForAxe(width)) continue;
            var found = await desk.Page.RunAxe(new AxeRunOptions { Rules = new Dictionary<string, RuleOptions> { ["target-size"] = new() { Enabled = false } } });
            wrong.AddRange(found.Violations.Select(v => $"{name} at {width}: {v.Id} {v.Help}: {string.Join(" | ", v.Nodes.Take(3).Select(n => n.Html[..Math.Min(160, n.Html.Length)]))}"));
        }

        return wrong;
    }

    [Fact]
    public async Task Keys_alone_reach_everything_that_can_be_pressed()
    {
        await using var desk = await DeskWindow.OpenAsync();
        List<string> left = [];
        foreach (var (name, path) in Pages.Where(p => p.Name is not "visits"))
        {
            await desk.GoAsync(path);
            if (name == "map") await desk.Page.WaitForSelectorAsync("#map[data-drawn]");
            var all = await desk.Page.EvaluateAsync<int>("() => { const all = [...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex=\"0\"]')].filter(e => e.getClientRects().length && !e.disabled); window.unreached = new Set(all); return all.length + 3 * all.filter(e => e.type === 'date' || e.type === 'time').length; }");
            await desk.Page.EvaluateAsync("() => addEventListener('focusin', e => { unreached.delete(e.target); if (e.target.type === 'radio') for (const other of [...unreached]) if (other.name === e.target.name) unreached.delete(other); })");
            // Dates and times have a stop for each of their parts.
            for (var i = 0; i < all + 4; i++) await desk.Page.Keyboard.PressAsync("Tab");
            left.AddRange((await desk.Page.EvaluateAsync<string[]>("() => [...unreached].slice(0, 4).map(e => e.outerHTML.slice(0, 100))")).Select(l => name + ": " + l));
        }

        Assert.True(left.Count == 0, string.Join('\n', left));
    }
}
