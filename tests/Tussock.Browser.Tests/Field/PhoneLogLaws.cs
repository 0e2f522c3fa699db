using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>The phone's log, the very module of the app, in a browser page against a real desk: nothing lost, nothing doubled.</summary>
[Collection("browser")]
public sealed class PhoneLogLaws
{
    /// <summary>A network that loses questions and answers by a seeded chance, and doubles some.</summary>
    private const string Module = """
        (async () => {
          const { PhoneLog } = await import('./log/phone-log.js'), { pair } = await import('./log/sending.js');
          window.chance = seed => () => { seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0; return seed / 4294967296; };
          window.flaky = random => async (...asked) => {
            if (random() < .25) throw new TypeError('lost on the way');
            const answer = await fetch(...asked);
            if (random() < .2 && asked[1]?.method === 'POST') await fetch(...asked);
            if (random() < .25) throw new TypeError('answer lost');
            return answer;
          };
          window.visit = n => [{ kind: 'visits', fields: { transect: 'T1', nest: String(n % 6 + 1), visited_on: '2026-05-18', finding: 'intact', note: 'note ' + n } }];
          window.openLog = async (name, now) => window.logs[name] ??= await PhoneLog.open({ name, ...(now ? { now } : {}) });
          window.logs = {}; window.pairLog = pair;
          window.seen = log => JSON.stringify([...log.rows.values()].map(r => [r.id, r.kind, Object.entries(r.fields).map(([k, v]) => [k, v.value, [...v.heads].sort()]).sort()]).sort());
        })()
        """;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task A_touch_that_was_answered_is_there_after_the_app_was_killed_and_numbers_have_no_gaps(int seed)
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        List<string> answered = [];
        await phone.Context.ExposeFunctionAsync("answered", (string id) => answered.Add(id));
        var page = await phone.Context.NewPageAsync();
        await page.GotoAsync(desk.Address);
        await page.EvaluateAsync(Module);
        await page.EvaluateAsync("async () => { const log = await openLog('laws'); (async () => { for (let n = 0; n < 2000; n++) log.touch(visit(n), { by: 'crew 1' }).then(made => answered(made[0].id)); })(); }");
        await Task.Delay(40 + (seed * 90), Cancel);
        await page.CloseAsync(new() { RunBeforeUnload = false });
        var told = answered.ToArray();

        var after = await phone.Context.NewPageAsync();
        await after.GotoAsync(desk.Address);
        await after.EvaluateAsync(Module);
        var kept = (await after.EvaluateAsync<JsonElement>("async () => (await openLog('laws')).outbox.map(e => [e.id, e.change.device_seq])")).EnumerateArray().Select(e => (Id: e[0].GetString()!, Seq: e[1].GetInt32())).ToArray();
        Assert.Subset(kept.Select(k => k.Id).ToHashSet(), told.ToHashSet());
        Assert.Equal(Enumerable.Range(1, kept.Length), kept.Select(k => k.Seq));
        Assert.Equal(kept.Select(k => k.Id).Order(StringComparer.Ordinal), kept.Select(k => k.Id));
    }

    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    [InlineData(13)]
    public async Task Two_phones_with_wrong_clocks_a_broken_network_and_a_killed_desk_end_in_the_same_state(int seed)
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Page.EvaluateAsync(Module);
        await phone.Page.EvaluateAsync("async seed => { window.random = chance(seed); for (const [name, off] of [['a', -3 * 864e5], ['b', 9 * 864e5]]) { const log = await openLog(name, () => Date.now() + off); await pairLog(log, '', name); await log.send(); } }", seed);
        for (var round = 0; round < 4; round++)
        {
            await phone.Page.EvaluateAsync("""
                async round => {
                  for (const name of ['a', 'b']) {
                    const log = logs[name];
                    for (let n = 0; n < 60; n++) {
                      const made = await log.touch(visit(n), { by: name });
                      if (random() < .3) await log.touch([{ kind: 'visits', record: made[0].change.record, fields: { note: 'changed', finding: 'depredated' } }], { by: name });
                      if (random() < .1) await log.undo(made[0].change.batch, { by: name });
                    }
                    for (let turn = 0; turn < 3; turn++) await log.send(flaky(random)).catch(() => {});
                  }
                }
                """, round);
            if (round != 1) continue;
            desk.Kill();
            await phone.Page.EvaluateAsync("async () => { for (const name of ['a', 'b']) await logs[name].send().catch(() => {}); }");
            desk.Start();
        }

        var ends = await phone.Page.EvaluateAsync<JsonElement>("""
            async () => {
              for (const name of ['a', 'b', 'a', 'b']) await logs[name].send();
              const { a, b } = logs;
              return { left: [a.outbox.length, b.outbox.length], alike: seen(a) === seen(b), visits: a.all('visits').length, sums: ['a', 'b'].map(n => logs[n].self.seq) };
            }
            """);
        Assert.Equal("[0,0]", ends.GetProperty("left").GetRawText());
        Assert.True(ends.GetProperty("alike").GetBoolean());
        Assert.True(ends.GetProperty("visits").GetInt32() > 300);
        Assert.DoesNotContain("wrong", FieldDesk.Done("check", desk.Data), StringComparison.OrdinalIgnoreCase);
        Assert.Empty(phone.Wrong);
    }

    [Fact]
    public async Task A_full_phone_says_so_and_keeps_all_that_was_answered()
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Page.EvaluateAsync(Module);
        await phone.Page.EvaluateAsync("async () => { const log = await openLog('full'); for (let n = 0; n < 5; n++) await log.touch(visit(n), { by: 'crew 1' }); }");
        // A real disk can't be filled here: the database refuses as browsers do, after the change itself was put in.
        var end = await phone.Page.EvaluateAsync<string>("""
            async () => {
              const { StorageFull } = await import('./log/storage.js');
              const log = logs.full, before = log.outbox.length, medium = await log.medium(new Blob([new Uint8Array(64)])), put = IDBObjectStore.prototype.put;
              IDBObjectStore.prototype.put = function (...asked) { if (this.name === 'media') throw new DOMException('full', 'QuotaExceededError'); return put.apply(this, asked); };
              try { await log.touch(visit(9), { by: 'crew 1', media: [medium] }); return 'written'; }
              catch (fault) { return fault instanceof StorageFull && log.outbox.length === before && log.media.size === 0 ? 'full' : String(fault); }
              finally { IDBObjectStore.prototype.put = put; }
            }
            """);
        Assert.Equal("full", end);
        var after = await phone.Page.EvaluateAsync<string>("async () => { const log = logs.full; await log.reload(); await log.touch(visit(10), { by: 'crew 1' }); return log.outbox.map(e => e.change.device_seq).join(); }");
        Assert.Equal("1,2,3,4,5,6", after);
    }

    [Fact]
    public async Task An_accepted_change_stays_until_a_snapshot_has_it()
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Page.EvaluateAsync(Module);
        var counts = await phone.Page.EvaluateAsync<JsonElement>("""
            async () => {
              const log = await openLog('handover'); await pairLog(log, '', 'x'); await log.send();
              const old = log.bundle, counts = [];
              await log.touch(visit(1), { by: 'crew 1' });
              await log.send(async (...asked) => { if (String(asked[0]).endsWith('bundle')) throw new TypeError('no bundle'); return fetch(...asked); }).catch(() => {});
              counts.push(log.outbox.filter(e => e.state === 'accepted').length, log.all('visits').length);
              await log.takeIn(old); counts.push(log.outbox.length, log.all('visits').length);
              await log.send(); counts.push(log.outbox.length, log.all('visits').length);
              return counts;
            }
            """);
        Assert.Equal("[1,1,1,1,0,1]", counts.GetRawText());
    }

    [Fact]
    public async Task A_phone_that_never_met_the_desk_hands_its_records_over_as_a_file_with_the_photo()
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        FieldDesk.Done("field", desk.Data, "--out", desk.At("app"));
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Page.EvaluateAsync(Module);
        var bundle = await File.ReadAllTextAsync(Path.Combine(desk.At("app"), "field-bundle.json"), Cancel);
        var copy = await phone.Page.EvaluateAsync<string>("""
            async bundle => {
              const log = await openLog('file'); await log.takeIn(JSON.parse(bundle));
              const medium = await log.medium(new Blob([new Uint8Array([1, 2, 3, 250])], { type: 'image/jpeg' }));
              await log.touch([...visit(1), { kind: 'media', fields: { media: medium.sha256 } }], { by: 'crew 1', media: [medium] });
              return (await log.copy()).text();
            }
            """, bundle);
        var file = desk.At("phone.jsonl");
        await File.WriteAllTextAsync(file, copy, Cancel);
        desk.Kill();
        var said = FieldDesk.Done("import", desk.Data, file);
        Assert.Contains("2", said, StringComparison.Ordinal);
        Assert.Single(Directory.GetFiles(desk.Data + ".media"));
        Assert.Contains("0", FieldDesk.Done("import", desk.Data, file), StringComparison.Ordinal);
        Assert.Single(copy.Split('\n').Where(l => l.Contains("\"end\":true", StringComparison.Ordinal)).Select(l => l.Length.ToString(CultureInfo.InvariantCulture)));
    }

    [Fact]
    public async Task Photos_go_by_the_byte_and_go_on_where_they_were_cut()
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Page.EvaluateAsync(Module);
        var end = await phone.Page.EvaluateAsync<JsonElement>("""
            async () => {
              const log = await openLog('photo'); await pairLog(log, '', 'x'); await log.send();
              const bytes = new Uint8Array(700000).map((_, i) => i * 7), medium = await log.medium(new Blob([bytes], { type: 'image/jpeg' }));
              await log.touch([{ kind: 'media', fields: { media: medium.sha256 } }], { by: 'crew 1', media: [medium] });
              let pieces = 0;
              await log.send(async (...asked) => { if (asked[1]?.method === 'PATCH' && ++pieces === 2) throw new TypeError('cut'); return fetch(...asked); }).catch(() => {});
              const before = log.unsent().photos; let again = 0;
              await log.send(async (...asked) => { if (asked[1]?.method === 'PATCH') again++; return fetch(...asked); });
              return [before, log.unsent().photos, again];
            }
            """);
        Assert.Equal("[1,0,2]", end.GetRawText());
        Assert.Equal(700000, new FileInfo(Assert.Single(Directory.GetFiles(desk.Data + ".media"))).Length);
    }
}
