using System.Text.Json;
using Microsoft.AspNetCore.Http;
using Tussock.App.Serving.Desk;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>The forms that make, forget and sign in with passkeys; a module of the page puts a device's answer into them.</summary>
/// <param name="served">What is served.</param>
/// <param name="people">The pages that these forms stand on.</param>
/// <param name="passkeys">How passkeys are made and checked.</param>
internal sealed class PasskeySite(ServedSeason served, PeopleSite people, Passkeys passkeys)
{
    internal const string SignInPath = PeopleSite.SignInPath + "/passkey";
    internal const string OwnPath = PeopleSite.PasswordPath + "/passkey";
    internal const string Ask = "/ask";
    internal const string Forget = "/forget";

    /// <summary>Longer than what any device answers, and too short to fill memory with.</summary>
    private const long LongestForm = 1 << 17;

    /// <summary>Whether an address is one of these forms.</summary>
    internal static bool Has(string path) => path is SignInPath or SignInPath + Ask or OwnPath or OwnPath + Ask or OwnPath + Forget;

    /// <summary>Takes one of the forms in.</summary>
    /// <param name="context">The request.</param>
    /// <param name="path">Its path.</param>
    /// <param name="visitor">Who asks; null for somebody who has not signed in.</param>
    internal async Task AnswerAsync(HttpContext context, string path, Visitor? visitor)
    {
        if (await DeskRendering.FormAsync(context, LongestForm) is not { } form) await people.NothingAsync(context, "desk.forged", StatusCodes.Status400BadRequest);
        else if (path is SignInPath or SignInPath + Ask) await AtTheDoorAsync(context, path, form, visitor);
        else if (visitor is not { Id: { } id } || served.File.Account(id) is not { } account) await people.NothingAsync(context, "people.no_sign_in_here", StatusCodes.Status404NotFound);
        else await OwnAsync(context, path, form, (visitor, account));
    }

    private async Task AtTheDoorAsync(HttpContext context, string path, IFormCollection form, Visitor? visitor)
    {
        if (visitor is not null) DeskRendering.See(context, "/");
        else if (path != SignInPath) await AskedAsync(context, await passkeys.AskToSignInAsync(context));
        else if (!await people.RefusedAsync(context, "", null))
        {
            if (await passkeys.SignedAsync(context, form["key"].ToString(), form["credential"].ToString()) is { } account) await people.LetInAsync(context, account, "");
            else
            {
                people.Witness(context, new(default, WitnessedAct.SignInFailed, "", "", "passkey"));
                await people.DoorAsync(context, Phrase.Of("people.passkey_wrong"), StatusCodes.Status403Forbidden);
            }
        }
    }

    private async Task OwnAsync(HttpContext context, string path, IFormCollection form, (Visitor Visitor, Account Account) own)
    {
        if (path == OwnPath + Forget)
        {
            served.File.RemovePasskey(form["id"].ToString(), own.Account.Person.Id, served.Clock.GetUtcNow(), people.From(context));
            DeskRendering.See(context, PeopleSite.PasswordPath);
        }
        else if (path == OwnPath + Ask)
        {
            // Whoever finds an open browser must not be able to make a key to it.
            var held = await people.HeldAsync(context, own.Account.Person.Name, own.Account);
            if (held is not null) await WhyAsync(context, StatusCodes.Status429TooManyRequests, held);
            else if (!await people.IsOwnAsync(context, own.Account, form["former"].ToString())) await WhyAsync(context, StatusCodes.Status403Forbidden, Phrase.Of("people.former_wrong"));
            else await AskedAsync(context, await passkeys.AskToMakeAsync(context, own.Account));
        }
        else if (Person.Named(form["name"].ToString()) is not { } name) await people.OwnPasswordAsync(context, own.Visitor, Phrase.Of("people.no_name", ("most", Person.LongestName)));
        else if (await passkeys.KeepAsync(context, own.Account, (form["key"].ToString(), form["credential"].ToString(), name), people.From(context))) DeskRendering.See(context, PeopleSite.PasswordPath);
        else await people.OwnPasswordAsync(context, own.Visitor, Phrase.Of("people.passkey_not_kept", ("most", Passkey.Most)));
    }

    private static Task AskedAsync(HttpContext context, (string Key, string Options) asked) => Answers.JsonAsync(context, StatusCodes.Status200OK, w =>
    {
        w.WriteString("key", asked.Key);
        w.WritePropertyName("options");
        using var options = JsonDocument.Parse(asked.Options);
        options.RootElement.WriteTo(w);
    });

    private Task WhyAsync(HttpContext context, int status, Phrase why) => Answers.JsonAsync(context, status, w => w.WriteString("why", SpokenLanguage.Of(context, served.Words).Say(why)));
}
