// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.Json;
using Tussock.Edges.Tests.Store;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Passkeys: made by whoever knows the password, good for this desk and one answer, gone when the lead sets another password.</summary>
public sealed class PasskeyTests : IAsyncDisposable
{
    private readonly NetworkDesk desk = new(PlainFolder.Invented("small", 12));
    private readonly SoftPasskey phone = new();

    private string Origin => desk.Desk.Address.ToString().TrimEnd('/');

    public ValueTask DisposeAsync()
    {
        phone.Dispose();
        return desk.DisposeAsync();
    }

    [Fact]
    public async Task A_passkey_signs_its_owner_in_without_name_or_password()
    {
        var crew = await WithPasskeyAsync();
        Assert.Contains("my phone", await crew.GetStringAsync(new Uri("/password", UriKind.Relative)), StringComparison.Ordinal);
        var client = desk.Stranger();
        var answer = await SignInAsync(client, (key, question) => (key, phone.Sign(question, Origin)));
        Assert.Equal((HttpStatusCode.SeeOther, "/"), (answer.StatusCode, answer.Headers.Location?.ToString()));
        Assert.Contains("crew 1", await client.GetStringAsync(new Uri("/password", UriKind.Relative)), StringComparison.Ordinal);
        Assert.Equal([WitnessedAct.SignedIn, WitnessedAct.PasskeyAdded], desk.File.Book(2).Select(w => w.Act));
        Assert.NotNull(desk.File.Passkey(phone.Id)!.UsedAt);
    }

    [Fact]
    public async Task Without_the_password_no_passkey_is_made()
    {
        var crew = await desk.SignedInAsync("crew 1");
        var asked = await PostAsync(crew, "/password/passkey/ask", "/password", ("former", "a wrong password"));
        Assert.Equal(HttpStatusCode.Forbidden, asked.StatusCode);
        Assert.Contains("password so far is wrong", await asked.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        // A question that another account was asked is no question to this one.
        var (key, question) = await QuestionAsync(await desk.SignedInAsync("lead"), "/password/passkey/ask", "/password", ("former", NetworkDesk.Password));
        var kept = await PostAsync(crew, "/password/passkey", "/password", ("key", key), ("credential", phone.Make(question, Origin)), ("name", "x"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, kept.StatusCode);
        Assert.Empty(desk.File.Passkeys(desk.File.Account("crew 1")!.Person.Id));
        Assert.Empty(desk.File.Passkeys(desk.File.Account("lead")!.Person.Id));
    }

    [Fact]
    public async Task What_was_not_signed_here_for_this_question_by_this_device_opens_nothing()
    {
        await WithPasskeyAsync();
        await RefusedAsync((key, question) => (key, phone.Sign(question, "https://elsewhere.test")));
        await RefusedAsync((key, question) => (key, phone.Sign(question, Origin, isTampered: true)));
        await RefusedAsync((key, question) => ("forged", phone.Sign(question, Origin)));
        await RefusedAsync((key, _) => (key, "{"));
    }

    [Fact]
    public async Task A_strangers_device_an_answer_given_twice_and_a_copy_of_a_device_open_nothing()
    {
        await WithPasskeyAsync();
        using var other = new SoftPasskey();
        await RefusedAsync((key, question) => (key, other.Sign(question, Origin)));
        (string Key, string Credential) given = default;
        Assert.Equal(HttpStatusCode.SeeOther, (await SignInAsync(desk.Stranger(), (key, question) => given = (key, phone.Sign(question, Origin)))).StatusCode);
        await RefusedAsync((_, _) => given);
        phone.SetBack();
        await RefusedAsync((key, question) => (key, phone.Sign(question, Origin)));
    }

    [Fact]
    public async Task A_device_that_does_not_ask_its_owner_gets_no_passkey()
    {
        using var unlocked = new SoftPasskey { IsVerified = false };
        var crew = await desk.SignedInAsync("crew 1");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await MakeAsync(crew, unlocked)).StatusCode);
    }

    [Fact]
    public async Task One_that_is_forgotten_or_whose_owner_gets_a_password_from_the_lead_is_gone()
    {
        var crew = await WithPasskeyAsync();
        var landowner = await desk.SignedInAsync("owner");
        await PostAsync(landowner, "/password/passkey/forget", "/password", ("id", phone.Id));
        Assert.NotNull(desk.File.Passkey(phone.Id));
        await PostAsync(crew, "/password", "/password", ("former", NetworkDesk.Password), ("password", "other words in a row"));
        Assert.NotNull(desk.File.Passkey(phone.Id));
        var lead = await desk.SignedInAsync("lead");
        await PostAsync(lead, "/people/password", "/people", ("id", desk.File.Account("crew 1")!.Person.Id.ToString()), ("password", NetworkDesk.Password));
        Assert.Null(desk.File.Passkey(phone.Id));
        await RefusedAsync((key, question) => (key, phone.Sign(question, Origin)));

        using var second = new SoftPasskey();
        crew = await desk.SignedInAsync("crew 1");
        Assert.Equal(HttpStatusCode.SeeOther, (await MakeAsync(crew, second)).StatusCode);
        await PostAsync(crew, "/password/passkey/forget", "/password", ("id", second.Id));
        Assert.Null(desk.File.Passkey(second.Id));
        Assert.Equal(WitnessedAct.PasskeyRemoved, desk.File.Book(1)[0].Act);
    }

    [Fact]
    public async Task Whoever_tries_too_often_waits()
    {
        for (var n = 0; n < 5; n++) await RefusedAsync((_, _) => ("none", "{}"));
        Assert.Equal(HttpStatusCode.TooManyRequests, (await SignInAsync(desk.Stranger(), (_, _) => ("none", "{}"))).StatusCode);
        Assert.Contains(desk.File.Book(10), w => w is { Act: WitnessedAct.SignInFailed, Detail: "passkey" });
    }

    private async Task<HttpClient> WithPasskeyAsync()
    {
        var crew = await desk.SignedInAsync("crew 1");
        Assert.Equal(HttpStatusCode.SeeOther, (await MakeAsync(crew, phone)).StatusCode);
        return crew;
    }

    private async Task<HttpResponseMessage> MakeAsync(HttpClient client, SoftPasskey device)
    {
        var (key, question) = await QuestionAsync(client, "/password/passkey/ask", "/password", ("former", NetworkDesk.Password));
        return await PostAsync(client, "/password/passkey", "/password", ("key", key), ("credential", device.Make(question, Origin)), ("name", "my phone"));
    }

    private async Task<HttpResponseMessage> SignInAsync(HttpClient client, Func<string, JsonElement, (string Key, string Credential)> device)
    {
        var (key, question) = await QuestionAsync(client, "/sign-in/passkey/ask", "/sign-in");
        var answer = device(key, question);
        return await PostAsync(client, "/sign-in/passkey", "/sign-in", ("key", answer.Key), ("credential", answer.Credential));
    }

    private async Task RefusedAsync(Func<string, JsonElement, (string Key, string Credential)> device)
    {
        var answer = await SignInAsync(desk.Stranger(), device);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Contains("does not open this desk", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private async Task<(string Key, JsonElement Question)> QuestionAsync(HttpClient client, string address, string page, params (string, string)[] fields)
    {
        var asked = await PostAsync(client, address, page, fields);
        Assert.Equal(HttpStatusCode.OK, asked.StatusCode);
        using var json = JsonDocument.Parse(await asked.Content.ReadAsStringAsync());
        return (json.RootElement.GetProperty("key").GetString()!, json.RootElement.GetProperty("options").Clone());
    }

    private async Task<HttpResponseMessage> PostAsync(HttpClient client, string address, string page, params (string Name, string Value)[] fields)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(address, UriKind.Relative))
        {
            Content = new FormUrlEncodedContent(fields.Append(("__RequestVerificationToken", await NetworkDesk.TokenAsync(client, page))).Select(f => new KeyValuePair<string, string>(f.Item1, f.Item2))),
        };
        request.Headers.Add("Origin", Origin);
        return await client.SendAsync(request);
    }
}
