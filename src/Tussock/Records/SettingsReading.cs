using System.Collections.Immutable;
using System.Text.Json;

namespace Tussock.Records;

/// <summary>Reads the <c>season</c> object of a season's description.</summary>
internal static class SettingsReading
{
    private const string File = "datapackage.json";

    internal static SeasonSettings? Read(SeasonPackage package, List<Problem> problems)
    {
        var before = problems.Count;
        if (package.Season.IsEmpty)
        {
            problems.Add(new Problem("season_missing", Severity.Stop, new Place(File, null, "season"), Phrase.Of("settings.season_missing"), Phrase.Of("settings.season_missing_todo")));
            return null;
        }

        var usual = new SeasonSettings { Name = "", Title = "" };
        var checkDays = Read(package, problems, "check_days", CheckDays, usual.CheckDays, "settings.expect_check_days");
        var benchmarks = Read(package, problems, "benchmarks", Benchmarks, (Survival: usual.SurvivalBenchmark, Clumps: usual.ClumpsPerAcreBenchmark), "settings.expect_benchmarks");
        var name = Read(package, problems, "name", Text, "", "settings.expect_text");
        if (name.Length == 0) Refuse(problems, "name", "settings.expect_name", package.SeasonJson("name") ?? "");
        var settings = usual with
        {
            Name = name,
            Title = Title(package) ?? name,
            Year = Read(package, problems, "year", Text, "", "settings.expect_text"),
            Species = Read(package, problems, "species", Text, "", "settings.expect_text"),
            TimeZone = Read(package, problems, "time_zone", Text, "", "settings.expect_text"),
            TrialDays = Read(package, problems, "trial_days", e => Days(e), usual.TrialDays, "settings.expect_days"),
            CheckDays = checkDays,
            WindowDays = Read(package, problems, "window_days", e => e.ValueKind == JsonValueKind.Number && e.TryGetInt32(out var w) && w is >= 0 and <= 14 ? w : null, usual.WindowDays, "settings.expect_days"),
            CoverClasses = Read(package, problems, "cover_classes", Classes, [], "settings.expect_cover_classes"),
            LossRule = Read(package, problems, "loss_rule", e => Token(e) switch { "any_egg" => LossRule.AnyEgg, "all_eggs" => LossRule.AllEggs, _ => (LossRule?)null }, usual.LossRule, "settings.expect_loss_rule"),
            SurvivalBenchmark = benchmarks.Survival,
            ClumpsPerAcreBenchmark = benchmarks.Clumps,
            ClassesThatCount = Read(package, problems, "clump_rule", ClassesThatCount, [], "settings.expect_clump_rule"),
            Judge = Read(package, problems, "judge", e => Token(e) switch { "pasture" => Judge.Pasture, "property" => Judge.Property, _ => (Judge?)null }, Judge.NotChosen, "settings.expect_judge"),
            EggKind = Read(package, problems, "egg_kind", Text, "", "settings.expect_text"),
            RainSinceOctoberMm = Read(package, problems, "rain_since_october_mm", Millimetres, (double?)null, "settings.expect_millimetres"),
            RainNormalMm = Read(package, problems, "rain_normal_mm", Millimetres, (double?)null, "settings.expect_millimetres"),
            Comment = Read(package, problems, "comment", Text, "", "settings.expect_text"),
            Practice = Read(package, problems, "practice", Text, "", "settings.expect_text"),
        };
        return problems.Count == before ? settings : null;
    }

    private static T Read<T>(SeasonPackage package, List<Problem> problems, string name, Func<JsonElement, T?> read, T usual, string expected)
        where T : struct
    {
        if (package.SeasonJson(name) is not { } json || json == "null") return usual;
        using var value = JsonDocument.Parse(json);
        if (read(value.RootElement) is { } result) return result;
        Refuse(problems, name, expected, json);
        return usual;
    }

    private static double? Read(SeasonPackage package, List<Problem> problems, string name, Func<JsonElement, double?> read, double? usual, string expected)
    {
        if (package.SeasonJson(name) is not { } json || json == "null") return usual;
        using var value = JsonDocument.Parse(json);
        if (read(value.RootElement) is { } result) return result;
        Refuse(problems, name, expected, json);
        return usual;
    }

    private static string Read(SeasonPackage package, List<Problem> problems, string name, Func<JsonElement, string?> read, string usual, string expected)
    {
        if (package.SeasonJson(name) is not { } json || json == "null") return usual;
        using var value = JsonDocument.Parse(json);
        if (read(value.RootElement) is { } result) return result;
        Refuse(problems, name, expected, json);
        return usual;
    }

    private static void Refuse(List<Problem> problems, string name, string expected, string found) =>
        problems.Add(new Problem("setting_unreadable", Severity.Stop, new Place(File, null, "season." + name),
            Phrase.Of("settings.unreadable", ("name", name), ("found", found.Length == 0 ? Phrase.Of("reading.nothing") : TableCheck.Shown(found)), ("expected", Phrase.Of(expected))), Phrase.Of("settings.unreadable_todo")));

    private static string? Title(SeasonPackage package)
    {
        foreach (var property in package.Package)
        {
            if (property.Name != "title") continue;
            using var value = JsonDocument.Parse(property.Json);
            return Text(value.RootElement);
        }

        return null;
    }

    private static string? Text(JsonElement e) => e.ValueKind switch { JsonValueKind.String => e.GetString(), JsonValueKind.Number => e.GetRawText(), _ => null };

    private static string Token(JsonElement e) => e.ValueKind == JsonValueKind.String ? Cell.Token(e.GetString() ?? "") : "";

    private static int? Days(JsonElement e) => e.ValueKind == JsonValueKind.Number && e.TryGetInt32(out var days) && days is >= 1 and <= 366 ? days : null;

    private static double? Millimetres(JsonElement e) => e.ValueKind == JsonValueKind.Number && e.TryGetDouble(out var mm) && mm is >= 0 and < 100_000 ? mm : null;

    private static ImmutableArray<int>? CheckDays(JsonElement e)
    {
        if (e.ValueKind != JsonValueKind.Array || e.GetArrayLength() == 0) return null;
        var days = new List<int>();
        foreach (var item in e.EnumerateArray())
        {
            if (Days(item) is not { } day || (days.Count > 0 && day <= days[^1])) return null;
            days.Add(day);
        }

        return [.. days];
    }

    private static (double Survival, double Clumps)? Benchmarks(JsonElement e)
    {
        if (e.ValueKind != JsonValueKind.Object) return null;
        var survival = 0.5;
        var clumps = 300.0;
        if (e.TryGetProperty("survival", out var s) && !(s.ValueKind == JsonValueKind.Number && s.TryGetDouble(out survival) && survival is > 0 and < 1)) return null;
        if (e.TryGetProperty("clumps_per_acre", out var c) && !(c.ValueKind == JsonValueKind.Number && c.TryGetDouble(out clumps) && clumps is > 0 and < 1e6)) return null;
        return (survival, clumps);
    }

    private static ImmutableArray<CoverClass>? Classes(JsonElement e)
    {
        if (e.ValueKind != JsonValueKind.Array) return null;
        var classes = new List<CoverClass>();
        foreach (var item in e.EnumerateArray())
        {
            var name = item.ValueKind == JsonValueKind.String ? item.GetString() : item.ValueKind == JsonValueKind.Object && item.TryGetProperty("name", out var n) ? Text(n) : null;
            if (string.IsNullOrWhiteSpace(name) || classes.Exists(c => c.Name == name)) return null;
            var role = item.ValueKind == JsonValueKind.Object && item.TryGetProperty("role", out var r) ? Token(r) : name.Contains("grass", StringComparison.OrdinalIgnoreCase) ? "grass" : "other";
            if (role is not ("grass" or "other")) return null;
            classes.Add(new CoverClass(name, role == "grass" ? CoverRole.Grass : CoverRole.Other));
        }

        return [.. classes];
    }

    private static ImmutableArray<string>? ClassesThatCount(JsonElement e)
    {
        if (e.ValueKind != JsonValueKind.Object) return null;
        if (!e.TryGetProperty("classes_that_count", out var list)) return [];
        if (list.ValueKind != JsonValueKind.Array) return null;
        var names = new List<string>();
        foreach (var item in list.EnumerateArray())
        {
            if (Text(item) is not { } name) return null;
            names.Add(name);
        }

        return [.. names];
    }
}
