// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Diagnostics;
using System.Net;
using System.Text.RegularExpressions;
using Tussock.App.Serving.People;
using Tussock.Edges.Tests.Store;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Signing in and out over the network, and how often it may be tried.</summary>
public sealed partial class SignInTests : IAsyncDisposable
{
    private readonly NetworkDesk desk = new(PlainFolder.Invented("small", 12));

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task The_cookie_is_for_this_host_over_https_alone_and_out_of_reach_of_scripts()
    {
        var answer = await NetworkDesk.SignInAsync(desk.Stranger(), "LEAD", NetworkDesk.Password);
        var cookie = answer.Headers.GetValues("Set-Cookie").Single(c => c.StartsWith(SignIn.Cookie, StringComparison.Ordinal));

        Assert.Equal("/", answer.Headers.Location!.ToString());
        foreach (var flag in new[] { "secure", "httponly", "samesite=strict", "path=/" }) Assert.Contains("; " + flag, cookie, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("domain=", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("expires=", cookie, StringComparison.OrdinalIgnoreCase);
        var door = await NetworkDesk.GetAsync(desk.Stranger(), "/sign-in");
        Assert.All(door.Headers.GetValues("Set-Cookie"), c => Assert.Contains("secure; samesite=strict; httponly", c, StringComparison.OrdinalIgnoreCase));
        Assert.DoesNotContain("Invented", await door.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cookie_that_was_changed_or_signed_out_opens_nothing()
    {
        var client = desk.Stranger();
        var cookie = (await NetworkDesk.SignInAsync(client, "lead", NetworkDesk.Password)).Headers.GetValues("Set-Cookie").Single(c => c.StartsWith(SignIn.Cookie, StringComparison.Ordinal)).Split(';')[0];
        Assert.Equal(HttpStatusCode.OK, await With(cookie));
        Assert.Equal(HttpStatusCode.SeeOther, await With(cookie[..^2] + (cookie[^1] == 'A' ? "BB" : "AA")));
        Assert.Equal(HttpStatusCode.SeeOther, await With(SignIn.Cookie + "=" + new string('A', 300)));
        Assert.Equal(HttpStatusCode.SeeOther, await With(SignIn.Cookie + "="));

        Assert.Equal(HttpStatusCode.SeeOther, (await NetworkDesk.PostAsync(client, "/sign-out", await NetworkDesk.TokenAsync(client, "/password"))).StatusCode);
        Assert.Equal(HttpStatusCode.SeeOther, await With(cookie));
        Assert.Equal([WitnessedAct.SignedOut, WitnessedAct.SignedIn], desk.File.Book(2).Select(w => w.Act));
        Assert.All(desk.File.Book(2), w => Assert.Equal(("lead", "127.0.0.1"), (w.By, w.Address)));
    }

    [Fact]
    public async Task Whoever_loses_the_account_the_role_or_the_password_is_out_at_once()
    {
        var (lead, crew, reviewer, owner) = (await desk.SignedInAsync("lead"), await desk.SignedInAsync("crew 1"), await desk.SignedInAsync("reviewer"), await desk.SignedInAsync("owner"));
        var token = await NetworkDesk.TokenAsync(lead, "/people");
        string Id(string name) => desk.File.Account(name)!.Person.Id.ToString();
        Assert.Equal(HttpStatusCode.SeeOther, (await NetworkDesk.PostAsync(lead, "/people/change", token, ("id", Id("crew 1")), ("role", "reviewer"))).StatusCode);
        Assert.Equal(HttpStatusCode.SeeOther, (await NetworkDesk.PostAsync(lead, "/people/password", token, ("id", Id("reviewer")), ("password", "other words in a row"))).StatusCode);
        Assert.Equal(HttpStatusCode.SeeOther, (await NetworkDesk.PostAsync(lead, "/people/remove", token, ("id", Id("owner")))).StatusCode);

        foreach (var client in new[] { crew, reviewer, owner }) Assert.Equal("/sign-in", (await NetworkDesk.GetAsync(client, "/")).Headers.Location?.ToString());
        Assert.Equal(HttpStatusCode.OK, (await NetworkDesk.GetAsync(lead, "/")).StatusCode);
        await desk.SignedInAsync("reviewer", "other words in a row");
        var page = await lead.GetStringAsync(new Uri("/people", UriKind.Relative));
        foreach (var said in new[] { "lead changed the role of crew 1: reviewer", "lead set the password of reviewer", "lead removed the account of owner", "test made the account of neighbour: landowner", "reviewer signed in" }) Assert.Contains(said, page, StringComparison.Ordinal);

        Assert.All(desk.File.Book(100).Where(w => w.By == "lead"), w => Assert.Equal("127.0.0.1", w.Address));

        foreach (var what in new[] { "change", "remove", "password" })
        {
            var own = await NetworkDesk.PostAsync(lead, "/people/" + what, token, ("id", Id("lead")), ("role", "crew"), ("password", NetworkDesk.Password));
            Assert.Equal(HttpStatusCode.UnprocessableEntity, own.StatusCode);
        }
    }

    [Fact]
    public async Task The_page_of_accounts_refuses_what_the_command_line_refuses()
    {
        var lead = await desk.SignedInAsync("lead");
        var token = await NetworkDesk.TokenAsync(lead, "/people");
        async Task<string> Refused(params (string, string)[] fields)
        {
            var answer = await NetworkDesk.PostAsync(lead, "/people/add", token, fields);
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            return await answer.Content.ReadAsStringAsync();
        }

        Assert.Contains("at least 12 characters", await Refused(("name", "new"), ("role", "crew"), ("password", "11 letters!")), StringComparison.Ordinal);
        Assert.Contains("Choose a role", await Refused(("name", "new"), ("role", "king"), ("password", NetworkDesk.Password)), StringComparison.Ordinal);
        Assert.Contains("at least one property", await Refused(("name", "new"), ("role", "landowner"), ("password", NetworkDesk.Password)), StringComparison.Ordinal);
        Assert.Contains("already", await Refused(("name", " CREW  1 "), ("role", "crew"), ("password", NetworkDesk.Password)), StringComparison.Ordinal);
        Assert.Contains("between one and", await Refused(("name", "\u0001 "), ("role", "crew"), ("password", NetworkDesk.Password)), StringComparison.Ordinal);
        Assert.Equal(NetworkDesk.Names.Order(StringComparer.Ordinal), desk.File.People().Select(p => p.Name));
        Assert.Equal(HttpStatusCode.SeeOther, (await NetworkDesk.PostAsync(lead, "/people/add", token, ("name", "<b>new</b>"), ("role", "landowner"), ("property", "Invented ranch"), ("password", NetworkDesk.Password))).StatusCode);
        Assert.DoesNotContain("<b>new", await lead.GetStringAsync(new Uri("/people", UriKind.Relative)), StringComparison.Ordinal);
        await desk.SignedInAsync("<B>new</b>");
    }

    [Fact]
    public async Task Ones_own_password_is_changed_by_whoever_knows_the_former_one()
    {
        var (here, elsewhere) = (await desk.SignedInAsync("crew 1"), await desk.SignedInAsync("crew 1"));
        var token = await NetworkDesk.TokenAsync(here, "/password");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await NetworkDesk.PostAsync(here, "/password", token, ("former", "guessed wrongly"), ("password", "other words in a row"))).StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await NetworkDesk.PostAsync(here, "/password", token, ("former", NetworkDesk.Password), ("password", "short"))).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await NetworkDesk.GetAsync(elsewhere, "/")).StatusCode);
        Assert.Equal(HttpStatusCode.SeeOther, (await NetworkDesk.PostAsync(here, "/password", token, ("former", NetworkDesk.Password), ("password", "other words in a row"))).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await NetworkDesk.GetAsync(here, "/")).StatusCode);
        Assert.Equal(HttpStatusCode.SeeOther, (await NetworkDesk.GetAsync(elsewhere, "/")).StatusCode);
    }

    [Fact]
    public async Task A_wrong_password_and_an_unknown_name_get_the_same_answer_and_many_are_told_to_wait()
    {
        var client = desk.Stranger();
        async Task<(HttpStatusCode, string, HttpResponseMessage)> Try(string name, string password)
        {
            var answer = await NetworkDesk.SignInAsync(client, name, password);
            return (answer.StatusCode, Varying().Replace(await answer.Content.ReadAsStringAsync(), ""), answer);
        }

        var wrong = await Try("lead", "wrong password 1");
        var unknown = await Try("nobody here", "wrong password 1");
        Assert.Equal((HttpStatusCode.Forbidden, wrong.Item2), (unknown.Item1, unknown.Item2));
        Assert.Equal(wrong.Item1, unknown.Item1);
        for (var n = 0; n < 3; n++) Assert.Equal(HttpStatusCode.Forbidden, (await Try("stranger " + n, "wrong password 1")).Item1);

        var told = await Try("lead", NetworkDesk.Password);
        Assert.Equal(HttpStatusCode.TooManyRequests, told.Item1);
        Assert.InRange(told.Item3.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 15);
        Assert.Matches("Try again in (one second|[0-9]+ seconds)", told.Item2);
        Assert.False(told.Item3.Headers.TryGetValues("Set-Cookie", out var cookies) && cookies.Any(c => c.StartsWith(SignIn.Cookie, StringComparison.Ordinal)));
        await Try("lead", NetworkDesk.Password);
        Assert.Equal([WitnessedAct.ToldToWait, WitnessedAct.SignInFailed], desk.File.Book(2).Select(w => w.Act));
        Assert.DoesNotContain(desk.File.Book(20), w => w.Whom.Contains("nobody here", StringComparison.Ordinal));
    }

    [Fact]
    public void An_address_that_fails_waits_longer_each_time_and_never_for_good_and_a_name_is_never_shut()
    {
        var clock = new SetClock();
        var pace = new SignInPace(clock);
        var (here, there) = (IPAddress.Parse("10.0.0.7"), IPAddress.Parse("10.0.0.8"));
        for (var n = 0; n < 5; n++) Assert.Equal(TimeSpan.Zero, pace.Begin(here, "ann").Wait);
        Assert.Equal((TimeSpan.FromSeconds(15), TimeSpan.Zero, true), pace.Begin(here, "ann"));
        Assert.True(pace.Begin(here, "ben").Wait > TimeSpan.Zero);
        Assert.Equal(TimeSpan.Zero, pace.Begin(there, "ann").Wait);
        Assert.InRange(pace.Begin(IPAddress.Parse("10.0.0.9"), "ANN").Delay.TotalSeconds, 1, 8);

        var waits = new List<double>();
        for (var n = 0; n < 9; n++)
        {
            var wait = pace.Begin(here, "x").Wait;
            waits.Add(wait.TotalSeconds);
            clock.Pass(wait);
            Assert.Equal(TimeSpan.Zero, pace.Begin(here, "x").Wait);
        }

        Assert.Equal([15, 30, 60, 120, 240, 480, 900, 900, 900], waits);
        for (var n = 0; n < 1000; n++)
        {
            var (wait, delay, _) = pace.Begin(IPAddress.Parse("10.1." + (n / 250) + "." + (n % 250)), "ann");
            Assert.True(wait == TimeSpan.Zero && delay <= TimeSpan.FromSeconds(8));
        }

        pace.Right(there, "ann");
        Assert.Equal(TimeSpan.Zero, pace.Begin(there, "ann").Delay);
        clock.Pass(TimeSpan.FromHours(1));
        Assert.Equal(TimeSpan.Zero, pace.Begin(here, "ann").Wait);
        for (var n = 0; n < 4; n++) pace.Begin(IPAddress.Parse("2001:db8::" + n), "n" + n);
        Assert.Equal(TimeSpan.Zero, pace.Begin(IPAddress.Parse("2001:db8::ffff"), "n").Wait);
        Assert.True(pace.Begin(IPAddress.Parse("2001:db8::1:2:3:4"), "n").Wait > TimeSpan.Zero);
    }

    [Fact]
    public void A_name_that_is_not_there_takes_as_long_as_one_that_is()
    {
        var passwords = new Passwords();
        var account = new Account(new Person(Guid.NewGuid(), "ann", PersonRole.Crew, [], default), passwords.Hash(NetworkDesk.Password), "");
        double Median(Account? whose) => Enumerable.Range(0, 7).Select(_ => Stopwatch.StartNew() is var watch && !passwords.IsRight(whose, "wrong password 1") ? watch.Elapsed.TotalMilliseconds : 0).Order().ElementAt(3);

        Assert.True(passwords.IsRight(account, NetworkDesk.Password));
        Assert.False(passwords.IsRight(null, "the password of nobody"));
        // Work that was left out would show as nothing; a shared machine stretches either.
        Assert.InRange(Median(null) / Median(account), 0.1, 10);
        Assert.True(Median(null) > 10, "a guess costs nothing");
    }

    [Fact]
    public async Task Requests_are_counted_by_person_and_come_back_with_time()
    {
        var clock = new SetClock();
        var allowance = new Allowance(clock, 60, 10);
        for (var n = 0; n < 10; n++) Assert.Null(allowance.Take("ann"));
        Assert.Equal(1, allowance.Take("ann")!.Value.TotalSeconds, 6);
        Assert.Null(allowance.Take("ben"));
        clock.Pass(TimeSpan.FromSeconds(2));
        Assert.Null(allowance.Take("ann"));
        Assert.Null(allowance.Take("ann"));
        Assert.NotNull(allowance.Take("ann"));

        var (owner, lead) = (await desk.SignedInAsync("owner"), await desk.SignedInAsync("lead"));
        HttpResponseMessage answer;
        var count = 0;
        while ((answer = await NetworkDesk.GetAsync(owner, "/password")).StatusCode == HttpStatusCode.OK) Assert.True(++count < 3000);
        Assert.Equal(HttpStatusCode.TooManyRequests, answer.StatusCode);
        Assert.NotNull(answer.Headers.RetryAfter);
        Assert.True(count >= 300, count + " were answered");
        Assert.Equal(HttpStatusCode.OK, (await NetworkDesk.GetAsync(lead, "/")).StatusCode);
    }

    [Fact]
    public async Task Over_plain_http_nobody_is_asked_for_a_password_and_on_this_machine_nobody_needs_one()
    {
        await using var plain = new RunningDesk(isLoopbackOnly: false);
        var door = await plain.Client.GetAsync(new Uri("/sign-in", UriKind.Relative));
        Assert.Equal(HttpStatusCode.Forbidden, door.StatusCode);
        Assert.DoesNotContain("<form", await door.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        await using var here = new RunningDesk();
        Assert.Equal(HttpStatusCode.OK, (await here.Client.GetAsync(new Uri("/people", UriKind.Relative))).StatusCode);
        Assert.Equal(HttpStatusCode.SeeOther, (await here.Client.GetAsync(new Uri("/sign-in", UriKind.Relative))).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await here.Client.GetAsync(new Uri("/password", UriKind.Relative))).StatusCode);
    }

    private async Task<HttpStatusCode> With(string cookie)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, "/worklist");
        request.Headers.Add("Cookie", cookie);
        return (await desk.Stranger(keepsCookies: false).SendAsync(request)).StatusCode;
    }

    [GeneratedRegex("value=\"CfDJ8[^\"]*\"")]
    private static partial Regex Varying();

    private sealed class SetClock : TimeProvider
    {
        private DateTimeOffset now = DateTimeOffset.UnixEpoch.AddYears(56);

        internal void Pass(TimeSpan time) => now += time;

        public override DateTimeOffset GetUtcNow() => now;
    }
}
