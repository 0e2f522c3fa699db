using System.Text.Json.Nodes;

namespace Tussock.Exchange.Archive;

/// <summary>The licence that whoever publishes has chosen: a known name, an address, or own words.</summary>
/// <param name="Name">Its short name; empty where it is only words or an address.</param>
/// <param name="Title">Its name for people.</param>
/// <param name="Address">Where it stands; empty where nobody said.</param>
internal sealed record Licence(string Name, string Title, string Address)
{
    private static readonly Licence[] Known =
    [
        new("CC0-1.0", "Creative Commons Zero 1.0 Universal", "https://creativecommons.org/publicdomain/zero/1.0/"),
        new("CC-BY-4.0", "Creative Commons Attribution 4.0 International", "https://creativecommons.org/licenses/by/4.0/"),
        new("CC-BY-NC-4.0", "Creative Commons Attribution-NonCommercial 4.0 International", "https://creativecommons.org/licenses/by-nc/4.0/"),
        new("CC-BY-SA-4.0", "Creative Commons Attribution-ShareAlike 4.0 International", "https://creativecommons.org/licenses/by-sa/4.0/"),
        new("ODbL-1.0", "Open Data Commons Open Database License 1.0", "https://opendatacommons.org/licenses/odbl/1-0/"),
        new("PDDL-1.0", "Open Data Commons Public Domain Dedication and License 1.0", "https://opendatacommons.org/licenses/pddl/1-0/"),
    ];

    /// <summary>The licence that a text means; null when nothing was chosen.</summary>
    internal static Licence? Of(string? text)
    {
        if (text?.Trim() is not { Length: > 0 } chosen) return null;
        if (Array.Find(Known, k => k.Name.Equals(chosen.Replace(' ', '-'), StringComparison.OrdinalIgnoreCase)) is { } known) return known;
        return Uri.TryCreate(chosen, UriKind.Absolute, out var address) && address.Scheme is "http" or "https" ? new Licence("", chosen, chosen) : new Licence("", chosen, "");
    }

    /// <summary>What stands in a row of the archive: the address where there is one.</summary>
    internal string InRows => Address.Length > 0 ? Address : Title;

    /// <summary>As a Data Package says it.</summary>
    internal JsonObject InPackage()
    {
        var licence = new JsonObject { ["name"] = Name.Length > 0 ? Name : "other", ["title"] = Title };
        if (Address.Length > 0) licence["path"] = Address;
        return licence;
    }
}
