using System.Diagnostics;
using System.Text;
using Tussock.App.Serving.People;
using Tussock.Edges.Tests.Store;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>Accounts from the command line: the password comes as one line of standard input, and from nowhere else.</summary>
public abstract class PeopleCommandTests : IDisposable
{
    private const string Password = "four words in a row";
    private readonly ScratchFolder scratch = new();
    private readonly TestData stored;
    private readonly string data;

    protected PeopleCommandTests(DataKind kind)
    {
        stored = TestData.Of(kind);
        data = stored.Data;
        DataFile.OpenToWrite(data).Import(new ImportRequest { Season = PlainFolder.Invented("small", 12), By = "test", Now = DateTimeOffset.UnixEpoch }, cancellation: TestContext.Current.CancellationToken);
    }

    public void Dispose()
    {
        stored.Dispose();
        scratch.Dispose();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public void People_are_added_listed_given_another_password_and_removed()
    {
        Assert.Equal("Nobody has an account yet.\n", Typed.Done("people", data).Out);
        Assert.Equal(0, Run(Password + "\n", "add", "Ann", "--role", "lead", "--as", "boss").Exit);
        Assert.Equal(0, Run(Password, "add", "B. Owner", "--role", "landowner", "--property", "Invented ranch").Exit);
        Assert.Equal("Ann: lead\nB. Owner: landowner (Invented ranch)\n", Typed.Done("people", data).Out);
        var file = DataFile.OpenToWrite(data);
        var before = file.Account("ann")!;
        Assert.True(new Passwords().IsRight(before, Password));
        Assert.Equal(0, Run("other words in a row\n", "password", "ANN").Exit);
        var after = file.Account("ann")!;
        Assert.True(new Passwords().IsRight(after, "other words in a row"));
        Assert.False(new Passwords().IsRight(after, Password));
        Assert.NotEqual(before.Stamp, after.Stamp);
        Assert.Equal(0, Run("", "remove", "ann").Exit);
        Assert.Null(file.Account("Ann"));
        Assert.Equal([(WitnessedAct.Removed, "Ann"), (WitnessedAct.PasswordSet, "Ann"), (WitnessedAct.Added, "B. Owner"), (WitnessedAct.Added, "Ann")], file.Book(9).Select(w => (w.Act, w.Whom)));
        Assert.Equal("boss", file.Book(9)[^1].By);
        Assert.Empty(file.Check(cancellation: TestContext.Current.CancellationToken));
        var backup = scratch.At("copy.db");
        file.CopyTo(backup);
        var bytes = Encoding.Latin1.GetString(File.ReadAllBytes(backup)) + stored.State;
        Assert.DoesNotContain(Password, bytes, StringComparison.Ordinal);
        Assert.DoesNotContain("other words", bytes, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, "eleven char", "at least 12 characters", "add", "Ann", "--role", "crew")]
    [InlineData(1, null, "No password came", "add", "Ann", "--role", "crew")]
    [InlineData(1, Password, "at least one property", "add", "Ann", "--role", "landowner")]
    [InlineData(1, Password, "there is: Invented ranch", "add", "Ann", "--role", "landowner", "--property", "Invented")]
    [InlineData(1, Password, "leave --property out", "add", "Ann", "--role", "crew", "--property", "Invented ranch")]
    [InlineData(1, Password, "between one and 80", "add", " ", "--role", "crew")]
    [InlineData(1, Password, "no such account", "password", "Ann")]
    [InlineData(1, Password, "no such account", "remove", "Ann")]
    [InlineData(2, Password, "tussock people add --help", "add", "Ann", "--role", "king")]
    [InlineData(2, Password, "tussock people add --help", "add", "Ann")]
    [InlineData(2, Password, "--help", "add", "Ann", "--role", "crew", "--password", "typed as an argument")]
    public void What_is_refused_is_said_and_makes_nobody(int exit, string? input, string said, params string[] args)
    {
        var run = Run(input, args);
        Assert.Equal(exit, run.Exit);
        Assert.Contains(said, run.Err, StringComparison.Ordinal);
        Assert.Empty(DataFile.OpenToRead(data).People());
    }

    [Fact]
    public void A_name_is_taken_whatever_its_capitals_and_a_file_that_is_not_there_is_not_made()
    {
        Assert.Equal(0, Run(Password, "add", "Ann", "--role", "lead").Exit);
        Assert.Contains("already", Run(Password, "add", " ANN ", "--role", "crew").Err, StringComparison.Ordinal);
        Assert.Equal(1, Typed.Run("people", scratch.At("nowhere.db")).Exit);
        Assert.Equal(1, Typed.Run("people", scratch.At("nowhere.db"), "remove", "Ann").Exit);
        Assert.False(File.Exists(scratch.At("nowhere.db")));
    }

    private (int Exit, string Err) Run(string? input, params string[] args)
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var arg in (string[])[typeof(App.Commands.Tree).Assembly.Location, "people", data, .. args]) start.ArgumentList.Add(arg);
        using var process = Process.Start(start)!;
        if (input is not null) process.StandardInput.Write(input);
        process.StandardInput.Close();
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.DoesNotContain(Password, output.GetAwaiter().GetResult() + error, StringComparison.Ordinal);
        return (process.ExitCode, error);
    }
}

/// <summary>The same in a file.</summary>
public sealed class PeopleCommandFileTests() : PeopleCommandTests(DataKind.File);

/// <summary>The same on a server.</summary>
public sealed class PeopleCommandServerTests() : PeopleCommandTests(DataKind.Server);
