using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Tussock.Field;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>What one phone keeps straight by itself: which window writes, which files are sound, what it may let go.</summary>
[Collection("browser")]
public sealed class FieldOnePhone
{
    private const string Line = "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n";

    private const string Open = """
        (async () => {
          const { PhoneLog } = await import('./log/phone-log.js'), { pair } = await import('./log/sending.js');
          const log = window.log = await PhoneLog.open({ name: 'apart' });
          await pair(log, '', 'x');
          await log.send();
          window.visit = n => [{ kind: 'visits', fields: { transect: 'T1', nest: String(n), visited_on: '2026-05-18', finding: 'intact', note: 'x'.repeat(n === 3 ? 9000 : 10) } }];
        })()
        """;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_second_window_says_so_and_can_take_over()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        var second = await phone.Context.NewPageAsync();
        await second.GotoAsync(desk.Address);
        await second.WaitForSelectorAsync("#elsewhere");
        Assert.True(await phone.Page.IsVisibleAsync("#due"));
        await second.ClickAsync("#work-here");
        await second.WaitForSelectorAsync("#due");
        await phone.Page.WaitForSelectorAsync("#elsewhere");
        await second.EvaluateAsync("() => { location.hash = '#/real-nest'; }");
        await second.ClickAsync("#write-it");
        await second.WaitForSelectorAsync("#due");

        // The first takes it back, and sees what the second wrote.
        await phone.TapAsync("work-here");
        await phone.WaitForAsync("to-phone", "on this phone only");
        await second.WaitForSelectorAsync("#elsewhere");
        Assert.Empty(phone.Wrong);
    }

    [Fact]
    public async Task A_file_of_the_app_that_comes_changed_is_said_and_not_kept()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        await using var host = builder.Build();
        host.Urls.Add("http://127.0.0.1:0");
        byte[] Bytes(FieldFile f) => f.Path == "screens/lost.js" ? [.. f.Bytes.ToArray(), (byte)' '] : f.Bytes.ToArray();
        host.MapGet("/{**path}", (string? path) => FieldFiles.All.Add(FieldFiles.List).FirstOrDefault(f => f.Path == (path is null or "" ? "index.html" : path)) is { } file ? (IResult)TypedResults.Bytes(Bytes(file), file.ContentType) : TypedResults.NotFound());
        await host.StartAsync(Cancel);
        await using var phone = await Phone.OpenAsync(host.Urls.First() + "/");
        await phone.WaitForAsync("say", "screens/lost.js");
        Assert.False(await phone.Page.EvaluateAsync<bool>("async () => !!(await caches.match(new URL('files.json', location.href).href))"));
    }

    [Fact]
    public async Task A_kept_file_that_went_bad_is_fetched_again_once_the_desk_is_there()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.KeptAsync();
        await phone.Page.EvaluateAsync("async () => { const [name] = await caches.keys(), cache = await caches.open(name); await cache.put(new URL('screens/lost.js', location.href.split('#')[0]).href, new Response('broken', { headers: { 'Content-Type': 'text/javascript' } })); (await navigator.serviceWorker.ready).active.postMessage('renew'); }");
        await phone.Page.WaitForFunctionAsync("async () => (await (await caches.match(new URL('screens/lost.js', location.href.split('#')[0]).href)).text()).includes('export function lost')");
    }

    [Fact]
    public async Task Messages_that_are_too_big_for_what_lies_between_are_halved_and_one_alone_keeps_no_other_back()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Page.EvaluateAsync(Open);
        var end = await phone.Page.EvaluateAsync<JsonElement>("""
            async () => {
              for (let n = 1; n <= 20; n++) await log.touch(visit(n), { by: 'crew 1' });
              const sizes = [], narrow = async (...asked) => {
                if (asked[1]?.method !== 'POST') return fetch(...asked);
                sizes.push(JSON.parse(asked[1].body).changes.length);
                return asked[1].body.length > 6000 ? new Response('{"why":"too big"}', { status: 413 }) : fetch(...asked);
              };
              await log.send(narrow);
              return [log.unsent().changes, log.unsent().refused, log.outbox.filter(e => e.state === 'refused').map(e => e.why).join(), log.all('visits').length, sizes[0]];
            }
            """);
        Assert.Equal("[0,1,\"too big\",20,20]", end.GetRawText());
    }

    [Fact]
    public async Task Photos_go_through_a_narrow_way_and_are_let_go_only_when_the_desk_has_bytes_and_record()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Page.EvaluateAsync(Open);
        var end = await phone.Page.EvaluateAsync<JsonElement>("""
            async () => {
              const bytes = new Uint8Array(500000).map((_, i) => i * 13), medium = await log.medium(new Blob([bytes], { type: 'image/jpeg' })), steps = [];
              const here = async () => steps.push([log.unsent().photos, log.media.size, !!(await log.mediumBytes(medium.sha256))].join(' '));
              await log.touch([{ kind: 'media', fields: { media: medium.sha256 } }], { by: 'crew 1', media: [medium] });
              await here();
              await log.send(async (...asked) => { if (String(asked[0]).includes('media/')) throw new TypeError('cut'); return fetch(...asked); }).catch(() => {});
              await here();
              await log.freeMedia();
              await here();
              await log.send(async (...asked) => asked[1]?.method === 'PATCH' && asked[1].body.size > 70000 ? new Response('', { status: 413 }) : fetch(...asked));
              await here();
              return steps;
            }
            """);
        Assert.Equal("[\"1 1 true\",\"1 1 true\",\"1 1 true\",\"0 0 false\"]", end.GetRawText());
        Assert.Equal(500000, new FileInfo(Assert.Single(Directory.GetFiles(desk.Data + ".media"))).Length);
    }

    [Fact]
    public async Task A_belt_is_counted_on_one_side_and_a_second_time()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, "", belts: "T1,1,50,0.76,1.8,bunchgrass,6,2026-05-04,crew 1,counted\nT1,1,50,0.76,1.8,shrub,0,2026-05-04,crew 1,counted\n"));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        await phone.WriteAsync("walker", "crew 2");
        await phone.GoAsync("tally", "T1");
        await phone.WriteAsync("arm-span", "1.8");
        await phone.WaitForAsync("end-segment", "segment 2");
        await phone.TapAsync("how");
        await phone.TapAsync("pass-1");
        await phone.WaitForAsync("end-segment", "segment 1");
        for (var i = 0; i < 4; i++) await phone.TapAsync("half-0");
        await phone.WaitForAsync("half-0", "4");
        await phone.TapAsync("end-segment");
        await phone.TapAsync("pass-0");
        await phone.TapAsync("side-2");
        await phone.WaitForAsync("end-segment", "segment 2");
        for (var i = 0; i < 3; i++) await phone.TapAsync("half-0");
        await phone.WaitForAsync("half-0", "3");
        await phone.TapAsync("end-segment");
        await phone.WaitForAsync("end-segment", "segment 3");
        await phone.SendAsync();
        var rows = await phone.Page.EvaluateAsync<string[]>("""
            async () => {
              const { PhoneLog } = await import('./log/phone-log.js'), log = await PhoneLog.open(), rows = log.all('belts');
              log.close();
              return rows.map(r => ['segment', 'pass', 'side', 'cover', 'clumps'].map(f => r.fields[f]?.value ?? '').join(' ')).sort();
            }
            """);
        Assert.Equal(["1   bunchgrass 6", "1   shrub 0", "1 2  bunchgrass 4", "1 2  shrub 0", "2  right bunchgrass 3", "2  right shrub 0"], rows);
    }
}
