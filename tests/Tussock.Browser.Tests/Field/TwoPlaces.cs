using System.Text.Json;
using Microsoft.Playwright;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>"17 NE" and no sense: the desk's ways on the phone, and the phone's own arithmetic against the core's.</summary>
[Collection("browser")]
public sealed class TwoPlaces
{
    private const string Line = "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\nInvented ranch,North,T2,2026-05-04,crew 1,crew 1\nInvented ranch,North,T3,2026-05-04,crew 2,crew 2\n";

    private const string Nests =
        "T1,5,bunchgrass,2026-05-04,09:00,set,bunchgrass,3,17,NE,,magnetic,31.4516,-99.2034,gps,4,crew 1\n" +
        "T2,1,shrub,2026-05-04,11:20,set,shrub,3,12,S,,magnetic,31.4536,-99.2034,gps,4,crew 1\n" +
        "T3,1,shrub,2026-05-04,11:20,set,shrub,3,12,S,,magnetic,31.4556,-99.2034,gps,4,crew 2\n";

    [Fact]
    public async Task Both_places_are_told_with_where_to_look_the_sense_is_offered_for_that_crews_nests_and_undo_takes_it_back()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, Nests, crew: "crew 1,78,100,2026-05-01\n"));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-05-18T14:00:00Z");
        await phone.PairAsync();
        await phone.KeptAsync();
        await phone.Context.SetOfflineAsync(true);
        await phone.WriteAsync("walker", "crew 2");
        await phone.GoAsync("transect", "T1");
        await phone.TapAsync("nest-5");
        await phone.WaitForAsync("way", "17 steps NE of flag 5, or 17 steps SW of flag 5; then look 3 m left and right, 3 m ahead and back");
        await phone.PictureAsync("two-places");
        await phone.TapAsync("found-2");
        await phone.WaitForAsync("way", "17 steps SW of flag 5; then look 3 m left and right");
        await phone.WaitForAsync("sense-offer", "one more nest");
        await phone.TapAsync("sense-offer");
        await phone.Page.WaitForSelectorAsync("#sense-offer", new() { State = WaitForSelectorState.Detached });
        Assert.Equal(["nest_to_flag", "nest_to_flag", ""], await Senses(phone));
        await phone.TapAsync("undo");
        await phone.Page.WaitForSelectorAsync("#sense-offer");
        Assert.Equal(["nest_to_flag", "", ""], await Senses(phone));
        await phone.TapAsync("undo");
        await phone.Page.WaitForSelectorAsync("#found-2");
        Assert.Equal(["", "", ""], await Senses(phone));
        Assert.Empty(phone.Wrong);
    }

    [Fact]
    public async Task The_phones_arithmetic_is_the_cores()
    {
        using var desk = new FieldDesk(PlannedSeason.Files());
        await using var phone = await Phone.OpenAsync(desk.Address);
        var vectors = await File.ReadAllTextAsync(Path.Combine(Root(), "tests", "checks", "phone-vectors", "vectors.json"), TestContext.Current.CancellationToken);
        var run = await File.ReadAllTextAsync(Path.Combine(Root(), "tests", "checks", "phone-vectors", "run.js"), TestContext.Current.CancellationToken);
        var told = await phone.Page.EvaluateAsync<JsonElement>("async text => { " + run.Replace("export async", "async", StringComparison.Ordinal) + "\nreturn wrong(JSON.parse(text), name => import('./' + name + '.js')); }", vectors);
        Assert.True(told.GetProperty("cases").GetInt32() > 100);
        Assert.Empty(told.GetProperty("wrong").EnumerateArray().Select(w => w.GetString()));
    }

    private static async Task<string[]> Senses(Phone phone) =>
        await phone.Page.EvaluateAsync<string[]>("async () => { const { PhoneLog } = await import('./log/phone-log.js'); const log = await PhoneLog.open(); const all = log.all('nests').sort((a, b) => a.fields.transect.value.localeCompare(b.fields.transect.value)).map(r => r.fields.direction_sense?.value ?? ''); log.close(); return all; }");

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Tussock.slnx"))) folder = folder.Parent;
        return folder!.FullName;
    }
}
