using System.Text.Json;
using System.Text.RegularExpressions;
using Tussock.Evidence;
using Tussock.Fates;
using Tussock.Records;
using Tussock.Verdicts;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>Every sentence that the program may want to say exists, and none stands there unsaid.</summary>
public partial class Sayings
{
    /// <summary>The hint that is left out where there is none.</summary>
    private const string Nothing = "review.hint_none";

    /// <summary>Subjects that live in the file of another subject.</summary>
    private static readonly Dictionary<string, string> Guests = new(StringComparer.Ordinal) { ["call"] = "verdict", ["advice"] = "verdict", ["happened"] = "results", ["month"] = "dates" };

    /// <summary>Keys made of a prefix and a token of the program, with the tokens; none given: a literal somewhere in the sources.</summary>
    private static readonly (string Prefix, string[]? Tokens)[] Families =
    [
        ("review.", null), ("folder.", null), ("camera_package.", null), ("archive.", null), ("archive.row_", ["event", "occurrence", "measurement", "land_events", .. new[] { "pastures", "transects", "nests", "visits", "remains", "cameras", "deployments", "belts", "crew" }]), ("store.", null), ("advice.", null), ("folder.separator_", null), ("reading.a_", ["pasture", "transect", "nest", "segment"]),
        ("review.", [.. from thing in new[] { "flags", "washers" } from side in new[] { "left", "more_in" } from end in new[] { "", "_todo" } select thing + "_" + side + end]),
        ("sheets.", [.. new[] { "set_out", "check", "belt", "remains", "supplies", "permit" }.Select(s => s + "_title")]), ("sheets.weekday.", [.. Enumerable.Range(0, 7).Select(d => Numbers.Whole(d))]),
        ("workbook.note.", null), ("workbook.setting.", null), ("workbook.readme_", [.. Enumerable.Range(1, 10).Select(n => Numbers.Whole(n))]), ("photos.by_", ["name", "place", "time", "day"]),
        ("sheets.load.", null), ("sheets.call.", null), ("sheets.beware.", null), ("sheets.permit.", null),
        ("years.event.", [.. RecordKind.Events.Columns.First(c => c.Name == "kind").Tokens]), ("report.method.", null), ("report.caution.", null), ("report.event.", null), ("report.cause.", Tokens<Cause>()), ("report.finding.", Enum.GetNames<Finding>()),
        ("review.finding.", ["intact", "depredated", "other_loss", "not_relocated"]),
        ("say.ended.", ["spoiled", "crew", "person", "moved", "other"]),
        ("verdict.words.", Tokens<VerdictKind>()),
        ("verdict.may.", [.. Tokens<VerdictKind>().Where(t => t != "not_enough_data")]),
        ("verdict.may.others.", [.. Tokens<VerdictKind>().Where(t => t != "not_enough_data")]),
        ("verdict.survival.", ["likely", "unlikely", "leans_above", "leans_below"]),
        ("verdict.density.", ["likely", "unlikely", "leans_above", "leans_below"]),
        ("verdict.cause.", [.. Tokens<Cause>().Where(t => t is not ("none" or "depredated" or "not_recorded"))]),
        ("old_sheets.is.", ["nothing", "station", "transect", "pasture", "cover", "plant", "set_on", "first_check", "first_date", "second_check", "second_date", "note"]), ("old_sheets.means.", ["intact", "depredated", "other_loss", "not_relocated", "not_set", "no_visit"]),
        ("plan_desk.field.", null), ("student.side.", ["likely", "unlikely", "not_settled"]), ("student.", ["says", "percent", "clumps", "clumps_percent"]), ("plan_desk.field.cost.", [.. Tussock.Provisions.SupplyList.Names]),
        ("desk.layer.", ["pastures", "lines", "flags", "nests", "clumps", "search", "cameras"]),
        ("desk.kind.", [.. RecordKind.All.Select(k => k.Name)]), ("desk.one.", [.. RecordKind.All.Select(k => k.Name)]),
        ("people.role.", ["lead", "crew", "reviewer", "landowner"]), ("people.may.", ["lead", "crew", "reviewer", "landowner"]), ("people.did_", ["added", "changed", "removed", "password"]),
        ("inspect.severity.", Tokens<Severity>()), ("technical.severity.", Tokens<Severity>()), ("report.prior.", [.. Tussock.Survival.ChancePrior.Others.Select(p => p.Name)]),
        ("import.case.", ["changed", "conflict", "removed", "returned", "missing", "kept"]),
        ("happened.", ["livestock_in", "rain", "flood", "hail", "burn", "mow"]),
        ("month.", [.. Enumerable.Range(1, 12).Select(m => Numbers.Whole(m))]),
        ("signs.", [.. SignTokens()]), ("signs.culprit.", SignCatalogue.Standard.Culprits.ToArray()),
        ("signs.fortnight.", ["first", "second", "not_known"]), ("signs.moved_", ["strongly_towards", "towards", "a_little_towards", "hardly", "a_little_away", "away", "strongly_away"]),
        ("serve.root.android", [.. Enumerable.Range(1, 4).Select(n => "." + Numbers.Whole(n))]), ("serve.root.iphone", [.. Enumerable.Range(1, 4).Select(n => "." + Numbers.Whole(n))]),
        ("field.not_found.", [.. Tussock.Fieldwork.FieldWords.NotFoundBecause.Select(t => t.Token)]), ("field.cause.", [.. Tussock.Fieldwork.FieldWords.OtherLossCauses.Select(t => t.Token)]),
    ];

    private static readonly Lazy<string[]> Literals = new(() => [.. Checkout.Sources.SelectMany(f => Literal().Matches(Checkout.Read(f)).Select(m => m.Groups["it"].Value))
        .Concat(Checkout.Pages.SelectMany(f => KeyInPage().Matches(Checkout.Read(f)).Select(m => m.Groups["it"].Value))).Distinct()]);
    private static readonly Lazy<HashSet<string>> LiteralWords = new(() => Literals.Value.SelectMany(l => NoWord().Split(l)).ToHashSet(StringComparer.Ordinal));
    private static readonly Lazy<Dictionary<string, string>> FileOf = new(() => Checkout.Files.Where(f => f.StartsWith("src/Tussock/Words/Catalogues/en/", StringComparison.Ordinal))
        .SelectMany(f => JsonDocument.Parse(Checkout.Read(f)).RootElement.EnumerateObject().Select(k => (k.Name, File: Path.GetFileNameWithoutExtension(f)))).ToDictionary(k => k.Name, k => k.File, StringComparer.Ordinal));

    [Fact]
    public void A_key_that_the_code_names_has_its_sentence()
    {
        var subjects = Catalogue.English.Keys.Select(k => k.Split('.')[0]).ToHashSet(StringComparer.Ordinal);
        var named = Literals.Value.Where(l => Key().IsMatch(l) && subjects.Contains(l.Split('.')[0]) && !l.EndsWith(".json", StringComparison.Ordinal));
        Checkout.None(named.Where(k => !Catalogue.English.Has(k) && !Families.Any(f => f.Prefix == k) && k[^1] != '_'));
    }

    [Fact]
    public void A_key_that_the_code_puts_together_has_its_sentence() =>
        Checkout.None(Families.Where(f => f.Tokens is not null).SelectMany(f => f.Tokens!.Select(t => f.Prefix + t)).Where(k => !Catalogue.English.Has(k)));

    [Fact]
    public void A_key_that_the_phone_names_has_its_sentence_and_none_is_left_unsaid()
    {
        var pages = Checkout.Files.Where(f => f.StartsWith("src/Tussock.Field/wwwroot/", StringComparison.Ordinal) && f.EndsWith(".js", StringComparison.Ordinal)).ToArray();
        var texts = pages.Select(Checkout.Read).ToArray();
        var ownWords = Checkout.Read("src/Tussock.Field/wwwroot/page/built-in-words.js");
        var named = texts.SelectMany(t => SaidOnPhone().Matches(t).Select(m => m.Groups["it"].Value)).Distinct().ToArray();
        Assert.True(named.Length > 50, "the pattern finds nothing");
        Checkout.None(named.Where(k => !Catalogue.English.Has("field_app." + k) && !ownWords.Contains($"  {k}: ", StringComparison.Ordinal)));
        var literals = texts.SelectMany(t => Quoted().Matches(t).Select(m => m.Groups["it"].Value)).ToHashSet(StringComparer.Ordinal);
        Checkout.None(Catalogue.English.Keys.Where(k => k.StartsWith("field_app.", StringComparison.Ordinal) && !literals.Contains(k["field_app.".Length..])));
    }

    [Theory]
    [InlineData("src/Tussock/Review/", @"\bon\.Add\(\s*""(?<it>[a-z_]+)""", "review.", true)]
    [InlineData("src/Tussock.Exchange/", @"\b(?:Stop|Note)\(""(?<it>[a-z0-9_]+)""", "folder.", true)]
    [InlineData("src/Tussock.Exchange/CameraPackage/", @"\b(?:Stop|Note)\(""(?<it>[a-z0-9_]+)""", "camera_package.", true)]
    [InlineData("src/Tussock.Exchange/Archive/", @"\b(?:Stop|Note)\(""(?<it>[a-z0-9_]+)""", "archive.", true)]
    [InlineData("src/Tussock.Store/", @"\bDataFileException\.Of\(""(?<it>[a-z_]+)""", "store.", true)]
    [InlineData("src/Tussock.Store/Bulk/JournalCheck.cs", @"\bAdd\(""(?<it>[a-z_]+)""", "store.", false)]
    public void A_finding_has_its_sentence_and_what_to_do(string under, string call, string prefix, bool hasTodo)
    {
        // A room of its own subject has its sentences there.
        string[] own = prefix == "folder." ? ["/CameraPackage/", "/Archive/"] : [];
        var rules = Checkout.Sources.Where(f => f.StartsWith(under, StringComparison.Ordinal) && !own.Any(o => f.Contains(o, StringComparison.Ordinal))).SelectMany(f => Regex.Matches(Checkout.Read(f), call).Select(m => m.Groups["it"].Value)).Distinct().ToArray();
        Assert.True(rules.Length > 3, under);
        Checkout.None(rules.SelectMany(r => hasTodo ? [prefix + r, prefix + r + "_todo"] : new[] { prefix + r }).Where(k => !Catalogue.English.Has(k)));
    }

    [Fact]
    public void No_sentence_is_left_that_nothing_says()
    {
        var literals = Literals.Value.ToHashSet(StringComparer.Ordinal);
        var unsaid = Catalogue.English.Keys.Where(k => !k.StartsWith("field_app.", StringComparison.Ordinal) && !literals.Contains(k) && !(k.EndsWith("_todo", StringComparison.Ordinal) && literals.Contains(k[..^5])) && !IsOfAFamily(k));
        Assert.True(!unsaid.Any(), string.Join(' ', unsaid));
    }

    [Fact]
    public void Every_sentence_can_be_said()
    {
        foreach (var key in Catalogue.English.Keys)
        {
            var template = Catalogue.English.Template(key);
            Assert.True(!string.IsNullOrWhiteSpace(template) || key == Nothing, key);
            Assert.True(Plain().IsMatch(Slot().Replace(template, "")), key + ": " + template);
            var arguments = Slot().Matches(template).Select(m => (Name: m.Groups["it"].Value, Format: m.Groups["more"].Value)).DistinctBy(a => a.Name)
                .Select(a => (a.Name, a.Format == ":date" ? new DateOnly(2026, 5, 14) : (object)2.0)).ToArray();
            Assert.True(Catalogue.English.Say(Phrase.Of(key, arguments)).Length > 0 || key == Nothing, key);
        }
    }

    [Fact]
    public void A_key_begins_with_the_name_of_its_file() =>
        Checkout.None(FileOf.Value.Where(k => k.Key.Split('.')[0] is var subject && k.Value != Guests.GetValueOrDefault(subject, subject)));

    private static bool IsOfAFamily(string key) => Families.Any(f =>
    {
        if (!key.StartsWith(f.Prefix, StringComparison.Ordinal)) return false;
        var token = key[f.Prefix.Length..];
        if (f.Tokens is not null) return f.Tokens.Contains(token);
        foreach (var end in new[] { "_todo", ".name" }) if (token.EndsWith(end, StringComparison.Ordinal)) token = token[..^end.Length];
        return LiteralWords.Value.Contains(token);
    });

    private static string[] Tokens<T>()
        where T : struct, Enum => [.. Enum.GetNames<T>().Select(n => Capital().Replace(n, m => (m.Index > 0 ? "_" : "") + m.Value.ToLowerInvariant()))];

    private static IEnumerable<string> SignTokens()
    {
        foreach (var culprit in SignCatalogue.Standard.Culprits.Append("other")) yield return "culprit." + culprit;
        yield return "not_looked";
        yield return "reading.cannot_tell";
        foreach (var sign in SignCatalogue.Standard.Signs)
        {
            yield return sign.Sign;
            yield return sign.Sign + ".look";
            foreach (var value in sign.Values) yield return sign.InWords(value).Key["signs.".Length..];
        }
    }

    [GeneratedRegex(@"""(?<it>(?:[^""\\\n]|\\.)*)""")]
    private static partial Regex Literal();

    /// <summary>In a page quotes stand inside quotes: only what looks like a key counts.</summary>
    [GeneratedRegex(@"""(?<it>[a-z_]+(?:\.[a-z0-9_]*)+)""")]
    private static partial Regex KeyInPage();

    [GeneratedRegex(@"^[a-z_]+(?<it>\.[a-z0-9_]+)+$")]
    private static partial Regex Key();

    [GeneratedRegex(@"\bsay\('(?<it>[a-z0-9_]+)'")]
    private static partial Regex SaidOnPhone();

    [GeneratedRegex("'(?<it>[a-z0-9_]+)'")]
    private static partial Regex Quoted();

    [GeneratedRegex("[^a-z0-9_]+")]
    private static partial Regex NoWord();

    [GeneratedRegex(@"\{(?<it>[a-z_A-Z]*)(?<more>(?:[:|][^{}]*)?)\}")]
    private static partial Regex Slot();

    [GeneratedRegex("^[^{}]*$")]
    private static partial Regex Plain();

    [GeneratedRegex("[A-Z]")]
    private static partial Regex Capital();
}
