using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>A browser that keeps nothing, and one that threw everything away.</summary>
[Collection("browser")]
public sealed class StorageGone
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task After_the_storage_was_cleared_what_was_sent_or_saved_is_there_and_the_rest_had_been_said_to_be_on_the_phone_only()
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.PairAsync();
        await TouchAsync(phone, "sent 1", "sent 2", "sent 3");
        await phone.SendAsync();
        await TouchAsync(phone, "saved 1", "saved 2");
        var copy = await phone.Page.EvaluateAsync<string>("async () => (await window.other.copy()).text()");
        await TouchAsync(phone, "neither");
        await phone.GoAsync("phone");
        await phone.WaitForAsync("unsent", "3");

        var session = await phone.Context.NewCDPSessionAsync(phone.Page);
        await session.SendAsync("Storage.clearDataForOrigin", new() { ["origin"] = new Uri(desk.Address).GetLeftPart(UriPartial.Authority), ["storageTypes"] = "all" });
        await phone.Page.GotoAsync(desk.Address);
        await phone.ReadyAsync();
        Assert.True(await phone.Page.IsVisibleAsync("#pair"));

        var file = desk.At("saved.jsonl");
        await File.WriteAllTextAsync(file, copy, Cancel);
        FieldDesk.Done("import", desk.Data, file);
        await phone.PairAsync("crew 1's phone again");
        await TouchAsync(phone, "after");
        await phone.SendAsync();
        var notes = await phone.Page.EvaluateAsync<string[]>("() => window.other.all('visits').map(v => v.fields.note.value).sort()");
        Assert.Equal(["after", "saved 1", "saved 2", "sent 1", "sent 2", "sent 3"], notes);
        Assert.Empty(phone.Wrong);
    }

    [Fact]
    public async Task A_browser_that_refuses_storage_is_told_so_in_a_sentence()
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        await phone.Context.AddInitScriptAsync("IDBFactory.prototype.open = () => { throw new DOMException('refused', 'SecurityError'); };");
        await phone.Page.ReloadAsync();
        await phone.WaitForAsync("main", "keeps nothing here");
    }

    /// <summary>Touches by a second hand on the same phone; the app's own page hears of them.</summary>
    private static async Task TouchAsync(Phone phone, params string[] notes) => await phone.Page.EvaluateAsync("""
        async notes => {
          const { PhoneLog } = await import('./log/phone-log.js');
          window.other?.close();
          const log = window.other = await PhoneLog.open();
          for (const note of notes) await log.touch([{ kind: 'visits', fields: { transect: 'T1', nest: '1', visited_on: '2026-05-18', finding: 'intact', note } }], { by: 'crew 1' });
        }
        """, notes);
}
