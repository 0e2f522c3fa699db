using System.Collections.Immutable;
using Microsoft.AspNetCore.Http;
using Tussock.App.Serving.Desk;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>Kinds of visitors.</summary>
[Flags]
internal enum Who
{
    /// <summary>Nobody.</summary>
    Nobody = 0,

    /// <summary>Somebody who has not signed in.</summary>
    Stranger = 1,

    /// <summary>A landowner.</summary>
    Landowner = 2,

    /// <summary>A reviewer.</summary>
    Reviewer = 4,

    /// <summary>Crew.</summary>
    Crew = 8,

    /// <summary>The lead, and whoever sits at the desk's own machine.</summary>
    Lead = 16,
}

/// <summary>The one place that says who may ask for what. An address without a row here is nobody's, not even the lead's: a new page answers only once it has one.</summary>
internal static class WhoMay
{
    private const Who Writers = Who.Lead | Who.Crew;
    private const Who Readers = Writers | Who.Reviewer;
    private const Who SignedIn = Readers | Who.Landowner;
    private const Who Everybody = SignedIn | Who.Stranger;
    private const string Read = "GET";
    private const string Write = "POST";

    /// <summary>Every address with who may ask for it; <c>{}</c> is any one part. The first row that fits holds.</summary>
    internal static ImmutableArray<(string Method, string Route, Who Who)> Rows { get; } =
    [
        (Read, "/", SignedIn),
        (Read, "/desk/state", SignedIn),
        (Read, "/desk/{}", Everybody),
        (Write, "/language", Everybody),
        (Write, "/units", Everybody),
        (Read, "/worklist", Readers),
        (Read, "/map", Readers),
        (Read, "/map.json", Readers),
        (Read, "/map/search.json", Readers),
        (Write, "/map/files", Writers),
        (Write, "/map/take", Writers),
        (Read, "/boundary/{}", Readers),
        (Write, "/boundary/{}", Writers),
        (Read, "/records/{}", Readers),
        (Read, "/record/{}", Readers),
        (Write, "/record/{}", Writers),
        (Write, "/record/{}/undo", Writers),
        (Write, "/record/{}/void", Writers),
        (Read, "/photos/{}", Readers),
        (Read, "/photos/{}/small", Readers),
        (Read, "/photos/{}/large", Readers),
        (Read, "/enter", Writers),
        (Read, "/enter/{}", Writers),
        (Write, "/enter/{}", Writers),
        (Write, "/enter/{}/decide", Writers),
        (Read, "/results", Readers),
        (Read, "/results/{}", Readers),
        (Read, "/results/{}/{}", Readers),
        (Read, "/why/{}", Readers),
        (Read, "/why/pasture/{}", Readers),
        (Read, "/reports", Readers),
        (Read, "/reports/compare", Readers),
        (Write, "/reports/make", Writers),
        (Read, "/reports/{}/{}", Readers),
        (Read, "/years", Readers),
        (Read, "/years/actions", Readers),
        (Read, "/years/network", Readers),
        (Read, "/years/paper", Readers),
        (Read, "/years/together", Readers),
        (Read, "/years/together/{}", Readers),
        (Read, "/backup", Who.Lead),
        (Write, "/backup", Who.Lead),
        (Read, "/old", Writers),
        (Write, "/old/read", Writers),
        (Write, "/old/look", Writers),
        (Write, "/old/take", Writers),
        (Read, "/quick", Readers),
        (Read, DeskPlan.Path, Readers),
        (Read, DeskPlan.Path + "/{}", Readers),
        (Write, DeskPlan.Path + "/lines", Writers),
        (Write, DeskPractice.Path + "/open", Readers),
        (Write, DeskPractice.Path + "/forget", Readers),
        (Read, DeskCases.Path, Who.Lead),
        (Write, DeskCases.Path, Who.Lead),
        (Read, "/sheets", Readers),
        (Read, "/sheets/{}", Readers),
        (Read, "/own/{}", Who.Landowner),
        (Read, PeopleSite.SignInPath, Everybody),
        (Write, PeopleSite.SignInPath, Everybody),
        (Write, PasskeySite.SignInPath, Everybody),
        (Write, PasskeySite.SignInPath + PasskeySite.Ask, Everybody),
        (Write, PeopleSite.SignOutPath, SignedIn),
        (Read, PeopleSite.PasswordPath, SignedIn),
        (Write, PeopleSite.PasswordPath, SignedIn),
        (Write, PasskeySite.OwnPath, SignedIn),
        (Write, PasskeySite.OwnPath + PasskeySite.Ask, SignedIn),
        (Write, PasskeySite.OwnPath + PasskeySite.Forget, SignedIn),
        (Read, PeopleSite.Path, Who.Lead),
        (Write, PeopleSite.Path + "/add", Who.Lead),
        (Write, PeopleSite.Path + "/change", Who.Lead),
        (Write, PeopleSite.Path + "/remove", Who.Lead),
        (Write, PeopleSite.Path + "/password", Who.Lead),
    ];

    private static readonly ImmutableArray<(string Method, string[] Parts, Who Who)> Split = [.. Rows.Select(r => (r.Method, r.Route.Split('/'), r.Who))];

    /// <summary>Who may ask for this address; nobody where there is no row for it.</summary>
    internal static Who Of(string method, string path) => Row(method, path) is { } i ? Rows[i].Who : Who.Nobody;

    /// <summary>The row's own spelling of an address, which names no record and nobody; a dash where there is no row.</summary>
    internal static string Named(string method, string path) => Row(method, path) is { } i ? Rows[i].Method + " " + Rows[i].Route : "–";

    /// <summary>The visitor as a kind.</summary>
    internal static Who As(Visitor? visitor) => visitor?.Role switch
    {
        null => Who.Stranger,
        PersonRole.Lead => Who.Lead,
        PersonRole.Crew => Who.Crew,
        PersonRole.Reviewer => Who.Reviewer,
        PersonRole.Landowner => Who.Landowner,
        _ => Who.Nobody,
    };

    /// <summary>One slash at the end is nothing; any other odd spelling of an address fits no row, so that nobody behind this table reads it differently.</summary>
    private static int? Row(string method, string path)
    {
        if (HttpMethods.IsHead(method)) method = Read;
        var parts = (path.Length > 1 && path[^1] == '/' ? path[..^1] : path).Split('/');
        for (var i = 0; i < Split.Length; i++)
        {
            if (Split[i].Method == method && Fits(Split[i].Parts, parts)) return i;
        }

        return null;
    }

    private static bool Fits(string[] row, string[] asked)
    {
        if (row.Length != asked.Length) return false;
        for (var i = 0; i < row.Length; i++)
        {
            if (row[i] == "{}" ? asked[i].Length == 0 : row[i] != asked[i]) return false;
        }

        return true;
    }
}
