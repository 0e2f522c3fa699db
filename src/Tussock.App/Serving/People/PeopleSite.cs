using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Tussock.App.Serving.Desk;
using Tussock.Desk;
using Tussock.Desk.Pages;
using Tussock.Records;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>The pages of signing in and out, of one's own password, and of everybody's accounts.</summary>
/// <param name="seasons">What is served.</param>
/// <param name="known">What the desk knows of the season that a request is of: for the lead's page alone.</param>
/// <param name="passwords">How passwords are tried.</param>
/// <param name="pace">How fast they may be tried.</param>
internal sealed class PeopleSite(ServedSeasons seasons, Func<HttpContext, Task<DeskAnswer>> known, Passwords passwords, SignInPace pace)
{
    internal const string Path = "/people";
    internal const string SignInPath = "/sign-in";
    internal const string SignOutPath = "/sign-out";
    internal const string PasswordPath = "/password";
    private const int MostLines = 300;
    private const long LongestForm = 1 << 16;
    private readonly ServedSeason served = seasons.Usual;
    private static readonly ImmutableArray<string> Done = ["added", "changed", "removed", "password"];

    /// <summary>Trying a password takes a core for a moment: two at a time, and the phones are still answered.</summary>
    private static readonly SemaphoreSlim Cores = new(2);

    private readonly Passkeys passkeys = new(seasons.Usual.File, seasons.Usual.Clock);

    /// <summary>Whether an address is one of these pages.</summary>
    internal static bool Has(string path) => PasskeySite.Has(path) || path is SignInPath or SignOutPath or PasswordPath or Path || path.StartsWith(Path + "/", StringComparison.Ordinal);

    /// <summary>A page that says nothing of the season: for those who have not signed in, and for what nobody may see.</summary>
    internal Task PlainAsync(HttpContext context, Type page, Dictionary<string, object?> parts, int status) => DeskRendering.RenderAsync(context, served.Words, Blank(), (page, parts, status));

    internal Task NothingAsync(HttpContext context, string why, int status) => PlainAsync(context, typeof(Nothing), new() { ["Why"] = Phrase.Of(why) }, status);

    /// <summary>Answers with one of these pages, or takes one of their forms in.</summary>
    /// <param name="context">The request.</param>
    /// <param name="path">Its path.</param>
    /// <param name="visitor">Who asks; null for somebody who has not signed in.</param>
    internal async Task AnswerAsync(HttpContext context, string path, Visitor? visitor)
    {
        if (PasskeySite.Has(path))
        {
            await new PasskeySite(served, this, passkeys).AnswerAsync(context, path, visitor);
            return;
        }

        var isWrite = HttpMethods.IsPost(context.Request.Method);
        var form = isWrite ? await DeskRendering.FormAsync(context, LongestForm) : null;
        if (isWrite && form is null)
        {
            await NothingAsync(context, "desk.forged", StatusCodes.Status400BadRequest);
            return;
        }

        var isHere = visitor is { Id: null };
        switch (path)
        {
            case SignInPath when visitor is not null:
                DeskRendering.See(context, "/");
                break;
            case SignInPath:
                if (form is null) await DoorAsync(context, null, StatusCodes.Status200OK);
                else await SignInAsync(context, form);
                break;
            case SignOutPath or PasswordPath when isHere:
                await NothingAsync(context, "people.no_sign_in_here", StatusCodes.Status404NotFound);
                break;
            case SignOutPath:
                await SignIn.OutAsync(context);
                Witness(context, new(default, WitnessedAct.SignedOut, visitor!.Name, visitor.Name));
                DeskRendering.See(context, SignInPath);
                break;
            case PasswordPath:
                if (form is null) await OwnPasswordAsync(context, visitor!, null, StatusCodes.Status200OK);
                else await SetOwnPasswordAsync(context, form, visitor!);
                break;
            default:
                var (said, wrong) = form is null ? (context.Request.Query["did"].ToString(), null) : Change(path, form, visitor!, From(context));
                if (form is not null && wrong is null) DeskRendering.See(context, Path + "?did=" + said);
                else await PeopleAsync(context, visitor!, Done.Contains(said) ? Phrase.Of("people.did_" + said) : null, wrong);
                break;
        }
    }

    /// <summary>The door, with what was wrong.</summary>
    internal Task DoorAsync(HttpContext context, Phrase? wrong, int status) =>
        PlainAsync(context, typeof(Tussock.Desk.Pages.SignIn), new() { ["Wrong"] = wrong, ["TakesPasskeys"] = Passkeys.IsPossible(context.Request.Host) }, status);

    /// <summary>Lets somebody in whose password or passkey was right.</summary>
    internal async Task LetInAsync(HttpContext context, Account account, string name)
    {
        pace.Right(context.Connection.RemoteIpAddress, name);
        await SignIn.InAsync(context, account);
        Witness(context, new(default, WitnessedAct.SignedIn, account.Person.Name, account.Person.Name));
        DeskRendering.See(context, "/");
    }

    /// <summary>The page of one's own password and passkeys, with what was wrong.</summary>
    internal Task OwnPasswordAsync(HttpContext context, Visitor visitor, Phrase? wrong, int status = StatusCodes.Status422UnprocessableEntity)
    {
        var keys = served.File.Passkeys(visitor.Id!.Value).Select(k => new PasskeyShown(k.Id, k.Name, k.AddedAt, k.UsedAt));
        return PlainAsync(context, typeof(OwnPassword), new() { ["Least"] = Passwords.Shortest, ["Wrong"] = wrong, ["TakesPasskeys"] = Passkeys.IsPossible(context.Request.Host), ["Keys"] = keys.ToImmutableArray() }, status);
    }

    /// <summary>Whether a password is one's own: whoever finds an open browser must not be able to guess the password behind it.</summary>
    internal async Task<bool> IsOwnAsync(HttpContext context, Account account, string typed)
    {
        var isRight = await IsRightAsync(account, typed, context.RequestAborted);
        if (!isRight) Witness(context, new(default, WitnessedAct.SignInFailed, "", account.Person.Name));
        else pace.Right(context.Connection.RemoteIpAddress, account.Person.Name);
        return isRight;
    }

    /// <summary>Tells whoever tries too fast at the door to wait.</summary>
    /// <returns>Whether it was told.</returns>
    internal async Task<bool> RefusedAsync(HttpContext context, string name, Account? account)
    {
        if (await HeldAsync(context, name, account) is not { } wait) return false;
        await DoorAsync(context, wait, StatusCodes.Status429TooManyRequests);
        return true;
    }

    /// <summary>Counts a try; a name on which many failed is only answered more slowly.</summary>
    /// <returns>Null when it may be made now, else how long to wait.</returns>
    internal async Task<Phrase?> HeldAsync(HttpContext context, string name, Account? account)
    {
        var (wait, delay, isNews) = pace.Begin(context.Connection.RemoteIpAddress, name);
        if (wait <= TimeSpan.Zero)
        {
            await Task.Delay(delay, served.Clock, context.RequestAborted);
            return null;
        }

        if (isNews) Witness(context, new(default, WitnessedAct.ToldToWait, "", account?.Person.Name ?? ""));
        var seconds = (int)Math.Ceiling(wait.TotalSeconds);
        context.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        return Phrase.Of("people.wait", ("seconds", seconds));
    }

    /// <summary>Writes a line into the book, with when and where from.</summary>
    internal void Witness(HttpContext context, Witnessed seen) => served.File.Witness(seen with { At = served.Clock.GetUtcNow(), Address = From(context) });

    /// <summary>Where a request comes from, for the book; at the desk itself that says nothing.</summary>
    internal string From(HttpContext context) => served.IsLoopbackOnly ? "" : context.Connection.RemoteIpAddress?.ToString() ?? "";

    private async Task SignInAsync(HttpContext context, IFormCollection form)
    {
        var (name, password) = (form["name"].ToString().Trim(), form["password"].ToString());
        if (name.Length > Person.LongestName) name = "";
        var account = Person.Named(name) is { } plain ? served.File.Account(plain) : null;
        if (await RefusedAsync(context, name, account)) return;
        if (await IsRightAsync(account, password, context.RequestAborted)) await LetInAsync(context, account!, name);
        else
        {
            Witness(context, new(default, WitnessedAct.SignInFailed, "", account?.Person.Name ?? ""));
            await DoorAsync(context, Phrase.Of("people.wrong"), StatusCodes.Status403Forbidden);
        }
    }

    private async Task SetOwnPasswordAsync(HttpContext context, IFormCollection form, Visitor visitor)
    {
        var password = form["password"].ToString();
        if (served.File.Account(visitor.Id!.Value) is not { } account) DeskRendering.See(context, SignInPath);
        else if (await HeldAsync(context, visitor.Name, account) is { } wait) await OwnPasswordAsync(context, visitor, wait, StatusCodes.Status429TooManyRequests);
        else if (!await IsOwnAsync(context, account, form["former"].ToString())) await OwnPasswordAsync(context, visitor, Phrase.Of("people.former_wrong"));
        else if (Passwords.Wrong(password) is { } weak) await OwnPasswordAsync(context, visitor, weak);
        else
        {
            served.File.SetPassword(account.Person.Id, passwords.Hash(password), visitor.Name, served.Clock.GetUtcNow(), From(context), keepsPasskeys: true);
            if (served.File.Account(account.Person.Id) is { } changed) await SignIn.InAsync(context, changed);
            DeskRendering.See(context, "/");
        }
    }

    private async Task<bool> IsRightAsync(Account? account, string password, CancellationToken stop)
    {
        await Cores.WaitAsync(stop);
        try
        {
            return await Task.Run(() => passwords.IsRight(account, password), stop);
        }
        finally
        {
            Cores.Release();
        }
    }

    /// <summary>Does what a form of the page of accounts says.</summary>
    /// <returns>What was done, or why nothing was.</returns>
    private (string Done, Phrase? Wrong) Change(string path, IFormCollection form, Visitor visitor, string from)
    {
        var (now, password) = (served.Clock.GetUtcNow(), form["password"].ToString());
        var what = path[(Path.Length + 1)..];
        var takesRole = what is "add" or "change";
        PersonRole? role = Accounts.Role(form["role"].ToString());
        ImmutableArray<string> properties = [.. form["property"].OfType<string>().Where(p => p.Length > 0).Distinct(StringComparer.Ordinal)];
        if (takesRole && (role is null ? Phrase.Of("people.no_role") : Accounts.Wrong(role.Value, ref properties, isStrict: false)) is { } noRole) return ("", noRole);
        if (what is "add" or "password" && Passwords.Wrong(password) is { } weak) return ("", weak);
        if (what == "add")
        {
            if (Person.Named(form["name"].ToString()) is not { } name) return ("", Phrase.Of("people.no_name", ("most", Person.LongestName)));
            var made = new Person(Guid.CreateVersion7(now), name, role!.Value, properties, now);
            return served.File.AddPerson(made, passwords.Hash(password), visitor.Name, from) ? ("added", null) : ("", Phrase.Of("people.taken", ("name", name)));
        }

        if (!Guid.TryParse(form["id"].ToString(), out var id)) return ("", Phrase.Of("people.none_such"));
        if (id == visitor.Id) return ("", Phrase.Of("people.not_oneself"));
        var (isDone, done) = what switch
        {
            "change" => (served.File.ChangePerson(id, role!.Value, properties, visitor.Name, now, from), "changed"),
            "remove" => (served.File.RemovePerson(id, visitor.Name, now, from), "removed"),
            _ => (served.File.SetPassword(id, passwords.Hash(password), visitor.Name, now, from), "password"),
        };
        return isDone ? (done, null) : ("", Phrase.Of("people.none_such"));
    }

    private async Task PeopleAsync(HttpContext context, Visitor visitor, Phrase? said, Phrase? wrong)
    {
        var answer = await known(context);
        var people = served.File.People().Select(p => new PersonShown(p.Id, p.Name, Accounts.Token(p.Role), p.Properties, p.Id == visitor.Id));
        var book = served.File.Book(MostLines).Select(w => new BookLine(w.At, Accounts.Line(w, served.Words), w.Address));
        var shown = new PeopleShown([.. people], [.. Accounts.Properties(answer.Tables).Union(seasons.Properties, StringComparer.Ordinal)], [.. book], said, wrong);
        await DeskRendering.RenderAsync(context, served.Words, answer, (typeof(Tussock.Desk.Pages.People), new() { ["Shown"] = shown, ["Least"] = Passwords.Shortest }, wrong is null ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity));
    }

    private static SeasonTables NoTables { get; } = new(new SeasonPackage([], [], []), [], ImmutableSortedDictionary<string, string>.Empty);

    /// <summary>An answer that knows no season.</summary>
    private DeskAnswer Blank() => new()
    {
        Position = 0, SeasonAt = 0, SeasonId = Guid.Empty, Title = served.Words.Say("people.program"), Today = default, Tables = NoTables, ReadOf = NoTables,
    };
}
