using System.Collections.Immutable;
using System.CommandLine;
using System.Runtime.CompilerServices;
using Tussock.App.Serving.People;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock people</c>: who may sign in at the desk over the network. A password is never an argument: those stand in the history of the shell and in the list of processes.</summary>
internal static class PeopleCommand
{
    private static readonly string[] Roles = [.. Enum.GetValues<PersonRole>().Select(Accounts.Token)];

    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = new Argument<string>("data") { Description = screen.Words.Say("help.import.file"), HelpName = "DATA" };
        var command = new Command("people", screen.Words.Say("help.people")) { data, Add(screen, data, cancel), Remove(screen, data), Password(screen, data, cancel) };
        command.SetAction(parsed =>
        {
            var people = DataFile.OpenToRead(parsed.GetValue(data)!).People();
            foreach (var person in people) screen.Out.WriteLine(person.Name + ": " + screen.Words.Say("people.role." + Accounts.Token(person.Role)) + (person.Properties.IsEmpty ? "" : " (" + string.Join(", ", person.Properties) + ")"));
            if (people.IsEmpty) screen.Out.WriteLine(screen.Words.Say("people.nobody"));
            return Exit.Done;
        });
        return command;
    }

    private static Command Add(Screen screen, Argument<string> data, CancellationToken cancel)
    {
        var (name, by) = (Name(screen), SharedOptions.By(screen));
        var role = new Option<string>("--role") { Description = screen.Words.Say("help.people.role"), HelpName = string.Join('|', Roles), Required = true };
        role.AcceptOnlyFromAmong(Roles);
        var property = new Option<string[]>("--property") { Description = screen.Words.Say("help.people.property"), HelpName = "NAME" };
        var command = new Command("add", screen.Words.Say("help.people.add")) { name, role, property, by };
        command.SetAction(parsed =>
        {
            var file = Open(parsed.GetValue(data)!);
            var chosen = Accounts.Role(parsed.GetValue(role)!)!.Value;
            ImmutableArray<string> properties = [.. (parsed.GetValue(property) ?? []).Distinct(StringComparer.Ordinal)];
            if (Person.Named(parsed.GetValue(name)!) is not { } plain) return screen.Refuse(Phrase.Of("people.no_name", ("most", Person.LongestName)));
            if (file.Account(plain) is not null) return screen.Refuse(Phrase.Of("people.taken", ("name", plain)));
            if ((Accounts.Wrong(chosen, ref properties, isStrict: true) ?? NoSuch(file, properties)) is { } wrong) return screen.Refuse(wrong);
            if (Asked(screen, plain, cancel, out var refused) is not { } password) return screen.Refuse(refused);
            var now = DateTimeOffset.UtcNow;
            return file.AddPerson(new Person(Guid.CreateVersion7(now), plain, chosen, properties, now), Hash(password), SharedOptions.Who(parsed.GetValue(by))) ? Done(screen, "people.did_added") : screen.Refuse(Phrase.Of("people.taken", ("name", plain)));
        });
        return command;
    }

    private static Command Remove(Screen screen, Argument<string> data)
    {
        var (name, by) = (Name(screen), SharedOptions.By(screen));
        var command = new Command("remove", screen.Words.Say("help.people.remove")) { name, by };
        command.SetAction(parsed =>
        {
            var file = Open(parsed.GetValue(data)!);
            return file.Account(parsed.GetValue(name)!.Trim()) is { } account && file.RemovePerson(account.Person.Id, SharedOptions.Who(parsed.GetValue(by)), DateTimeOffset.UtcNow) ? Done(screen, "people.did_removed") : screen.Refuse(Phrase.Of("people.none_such"));
        });
        return command;
    }

    private static Command Password(Screen screen, Argument<string> data, CancellationToken cancel)
    {
        var (name, by) = (Name(screen), SharedOptions.By(screen));
        var command = new Command("password", screen.Words.Say("help.people.password")) { name, by };
        command.SetAction(parsed =>
        {
            var file = Open(parsed.GetValue(data)!);
            if (file.Account(parsed.GetValue(name)!.Trim()) is not { } account) return screen.Refuse(Phrase.Of("people.none_such"));
            if (Asked(screen, account.Person.Name, cancel, out var refused) is not { } password) return screen.Refuse(refused);
            return file.SetPassword(account.Person.Id, Hash(password), SharedOptions.Who(parsed.GetValue(by)), DateTimeOffset.UtcNow) ? Done(screen, "people.did_password") : screen.Refuse(Phrase.Of("people.none_such"));
        });
        return command;
    }

    private static int Done(Screen screen, string said)
    {
        screen.Out.WriteLine(screen.Words.Say(said));
        return Exit.Done;
    }

    private static Argument<string> Name(Screen screen) => new("name") { Description = screen.Words.Say("help.people.name"), HelpName = "NAME" };

    /// <summary>The data, brought up to date.</summary>
    private static DataFile Open(string path)
    {
        var file = DataFile.OpenExisting(path);
        file.BringUpToDate(DateTimeOffset.UtcNow);
        return file;
    }

    private static Phrase? NoSuch(DataFile file, ImmutableArray<string> properties)
    {
        if (properties.IsEmpty) return null;
        var known = file.Seasons().SelectMany(s => Accounts.Properties(file.Tables(s.Name))).Distinct(StringComparer.Ordinal).ToArray();
        return properties.FirstOrDefault(p => !known.Contains(p)) is { } odd ? Phrase.Of("people.no_such_property", ("property", odd), ("properties", string.Join(", ", known))) : null;
    }

    /// <summary>A password that may be one: asked twice at a terminal, where it is not shown, or one line of what is piped in.</summary>
    private static string? Asked(Screen screen, string name, CancellationToken cancel, out Phrase refused)
    {
        refused = Phrase.Of("people.no_password");
        string? typed;
        if (Console.IsInputRedirected)
        {
            typed = Console.In.ReadLine();
        }
        else
        {
            typed = Hidden(screen, Phrase.Of("people.ask", ("name", name), ("least", Passwords.Shortest)), cancel);
            if (Passwords.Wrong(typed) is null && Hidden(screen, Phrase.Of("people.ask_again"), cancel) != typed)
            {
                refused = Phrase.Of("people.not_the_same");
                return null;
            }
        }

        if (typed is null) return null;
        if (Passwords.Wrong(typed) is not { } wrong) return typed;
        refused = wrong;
        return null;
    }

    private static string Hidden(Screen screen, Phrase question, CancellationToken cancel)
    {
        screen.Err.Write(screen.Words.Say(question));
        screen.Err.Flush();
        var typed = new System.Text.StringBuilder();
        while (true)
        {
            // Reading a key can't be called off; looking whether there is one can.
            while (!Console.KeyAvailable)
            {
                cancel.ThrowIfCancellationRequested();
                Thread.Sleep(20);
            }

            var key = Console.ReadKey(intercept: true);
            if (key.Key == ConsoleKey.Enter) break;
            if (key.Key == ConsoleKey.Backspace) typed.Length = Math.Max(0, typed.Length - 1);
            else if (!char.IsControl(key.KeyChar)) typed.Append(key.KeyChar);
        }

        screen.Err.WriteLine();
        return typed.ToString();
    }

    /// <summary>The only method that touches the framework's hasher: nothing of it is loaded to list people.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static string Hash(string password) => new Passwords().Hash(password);
}
