using System.Text.Json;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>Every action by keys alone: a day of field work in which no finger and no mouse touches the phone.</summary>
[Collection("browser")]
public sealed class FieldByKeys
{
    private const string Line = "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n";

    [Fact]
    public async Task A_whole_check_a_set_out_and_a_belt_by_keys_alone()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line,
            "T1,1,bunchgrass,2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,magnetic,,,,,crew 1\nT1,2,shrub,2026-05-04,09:20,set,shrub,3,17,NE,flag_to_nest,magnetic,,,,,crew 1\nT1,3,shrub,2026-05-04,09:40,set,shrub,3,19,S,flag_to_nest,magnetic,,,,,crew 1\n"));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-05-18T14:00:00Z");
        await phone.TabToAsync("phone-name");
        await phone.Page.Keyboard.TypeAsync("crew 1's phone");
        await phone.Page.Keyboard.PressAsync("Enter");
        await phone.Page.WaitForSelectorAsync("#due");
        await phone.TabToAsync("walker");
        await phone.Page.Keyboard.TypeAsync("crew 1");
        await phone.Page.Keyboard.PressAsync("Tab");

        // Checking: intact with fresh eggs, a lost nest held by Enter, one that is not found held by Space.
        await phone.PressAsync("due-T1");
        await phone.Page.WaitForFunctionAsync("() => document.activeElement.tagName === 'H1'");
        Assert.Equal("Transect T1 · Tussock", await phone.Page.TitleAsync());
        await phone.PressAsync("nest-1");
        await phone.PressAsync("intact");
        await phone.WaitForAsync("written", "Intact");
        await phone.WaitForAsync("heard", "intact");
        Assert.Equal("fresh-0", await phone.FocusedAsync("id"));
        await phone.PressAsync("fresh-0", "Space");
        await phone.WaitForAsync("heard", "eggs refreshed: yes");
        Assert.Equal("fresh-0", await phone.FocusedAsync("id"));
        await phone.PressAsync("next-nest");
        await phone.Page.WaitForFunctionAsync("() => document.querySelector('h1').textContent.includes('nest 2')");
        await HoldAsync(phone, "lost", "Enter");
        await phone.Page.WaitForSelectorAsync("#taken");
        await phone.PressAsync("taken");
        await phone.PressAsync("sign-shell_present-0");
        await phone.Page.WaitForSelectorAsync("#sign-shell_present-0[aria-pressed=true]");
        await phone.PressAsync("next-nest");
        await phone.Page.WaitForFunctionAsync("() => document.querySelector('h1').textContent.includes('nest 3')");
        await HoldAsync(phone, "cant-find", " ");
        await phone.Page.WaitForSelectorAsync("#try_flag");
        await phone.PressAsync("try_flag", "Space");
        await phone.PressAsync("still-not-found");
        await phone.Page.WaitForSelectorAsync("#to-set-out");

        // Setting out: the rose is one stop, the arrows go round.
        await phone.PressAsync("to-set-out");
        await phone.TabToAsync("steps");
        await phone.Page.Keyboard.TypeAsync("23");
        await phone.TabToAsync("rose-N");
        foreach (var key in new[] { "ArrowRight", "ArrowRight", "ArrowDown", "ArrowRight", "ArrowLeft" }) await phone.Page.Keyboard.PressAsync(key);
        Assert.Equal("rose-ENE", await phone.FocusedAsync("id"));
        await phone.Page.Keyboard.PressAsync("Enter");
        await phone.Page.WaitForSelectorAsync("#rose-ENE[aria-pressed=true]");
        await phone.PressAsync("nest-is-set");
        await phone.Page.WaitForFunctionAsync("() => document.querySelector('h1').textContent.includes('nest 5')");
        Assert.Equal("H1", await phone.FocusedAsync("tagName"));

        // The belt: a key that stays down counts once.
        await phone.PressAsync("to-today");
        await phone.PressAsync("line-T1");
        await phone.PressAsync("to-tally");
        await phone.TabToAsync("arm-span");
        await phone.Page.Keyboard.TypeAsync("1.8");
        await phone.Page.Keyboard.PressAsync("Tab");
        await phone.Page.WaitForSelectorAsync("#half-0");
        await phone.TabToAsync("half-0");
        for (var i = 0; i < 5; i++) await phone.Page.Keyboard.DownAsync("Enter");
        await phone.Page.Keyboard.UpAsync("Enter");
        await phone.WaitForAsync("half-0", "1");
        await phone.PressAsync("half-1", "Space");
        await phone.WaitForAsync("half-1", "1");
        await phone.PressAsync("end-segment");
        await phone.WaitForAsync("end-segment", "segment 2");
        await phone.PressAsync("undo");
        await phone.PressAsync("to-phone");
        await phone.PressAsync("send-now");
        await phone.WaitForAsync("unsent", "at the desk");
        Assert.Empty(phone.Wrong);
    }

    [Fact]
    public async Task What_has_the_keys_is_seen_on_every_kind_of_control()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, "T1,1,bunchgrass,2026-05-04,09:00,set,bunchgrass,3,21,ENE,flag_to_nest,magnetic,,,,,crew 1\n"));
        await using var phone = await Phone.OpenAsync(desk.Address, "2026-05-18T14:00:00Z");
        await phone.PairAsync();
        foreach (var route in new string[][] { ["today"], ["set-out", "T1"], ["transect", "T1"], ["calibrate"], ["phone"], ["practice"], ["reading"] })
        {
            await phone.GoAsync(route);
            var stops = await phone.Page.EvaluateAsync<int>("() => [...document.querySelectorAll('button, input, summary, a')].filter(e => e.tabIndex >= 0 && e.getClientRects().length).length");
            for (var i = 0; i < stops; i++)
            {
                await phone.Page.Keyboard.PressAsync("Tab");
                var (id, seen) = await SeenAsync(phone);
                Assert.True(seen, route[0] + ": no outline on " + id);
            }
        }
    }

    private static async Task<(string Id, bool Seen)> SeenAsync(Phone phone)
    {
        var seen = await phone.Page.EvaluateAsync<JsonElement>("""
            () => {
              const e = document.activeElement, marked = e.classList.contains('unseen') ? e.parentElement.querySelector('label.button') : e, s = getComputedStyle(marked);
              // The clock button inside a field of time has a ring of its own, which the browser draws.
              return [e.id || e.tagName, e === document.body || e.type === 'time' || (s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 3)];
            }
            """);
        return (seen[0].GetString()!, seen[1].GetBoolean());
    }

    /// <summary>A short press does nothing; half a second does.</summary>
    private static async Task HoldAsync(Phone phone, string id, string key)
    {
        await phone.PressAsync(id, key == " " ? "Space" : key);
        await phone.SettledAsync();
        Assert.Equal(id, await phone.FocusedAsync("id"));
        await phone.Page.Keyboard.DownAsync(key);
        await phone.Page.WaitForTimeoutAsync(700);
        await phone.Page.Keyboard.UpAsync(key);
    }
}
