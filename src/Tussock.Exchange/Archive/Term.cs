using System.Collections.Immutable;
using System.Text.Json.Nodes;

namespace Tussock.Exchange.Archive;

/// <summary>A term of Darwin Core or Dublin Core that is a column here.</summary>
/// <param name="Name">Its local name, which is the column's.</param>
/// <param name="Type">Type of its cells in the words of Table Schema.</param>
/// <param name="IsRequired">Whether every row has it.</param>
internal sealed record Term(string Name, string Type = "string", bool IsRequired = false)
{
    /// <summary>Terms of events, in the order of the columns; the first is the row's id.</summary>
    internal static readonly ImmutableArray<Term> OfEvents = List("eventID! parentEventID eventType! fieldNumber eventDate eventTime habitat samplingProtocol! sampleSizeValue:number sampleSizeUnit samplingEffort locationID decimalLatitude:number decimalLongitude:number geodeticDatum coordinateUncertaintyInMeters:number informationWithheld! dataGeneralizations license");

    /// <summary>Terms of occurrences; the first names the event.</summary>
    internal static readonly ImmutableArray<Term> OfOccurrences = List("eventID! occurrenceID! basisOfRecord! occurrenceStatus! eventDate scientificName! kingdom! vernacularName individualCount:integer behavior identificationRemarks occurrenceRemarks");

    /// <summary>Terms of measurements and facts; the first names the event.</summary>
    internal static readonly ImmutableArray<Term> OfMeasurements = List("eventID! measurementID! measurementType! measurementValue! measurementUnit measurementMethod measurementRemarks");

    /// <summary>Address of a class of Darwin Core.</summary>
    internal static string Class(string name) => Space + name;

    /// <summary>Address of the term.</summary>
    internal string Address => Name == "license" ? "http://purl.org/dc/terms/license" : Space + Name;

    /// <summary>The column as Table Schema describes it.</summary>
    internal JsonObject Field() => new() { ["name"] = Name, ["type"] = Type, ["constraints"] = Constraints() };

    private const string Space = "http://rs.tdwg.org/dwc/terms/";

    private JsonObject Constraints()
    {
        var rules = new JsonObject { ["required"] = IsRequired };
        var (least, most) = Name switch { "decimalLatitude" => (-90.0, 90.0), "decimalLongitude" => (-180, 180), _ => (0, 0) };
        if (most > 0) (rules["minimum"], rules["maximum"]) = (least, most);
        else if (Type != "string") rules["minimum"] = 0;
        if (Name is "occurrenceID" or "measurementID") rules["unique"] = true;
        string[] tokens = Name switch { "eventType" => ["season", "transect", "visit", "camera"], "basisOfRecord" => ["MachineObservation"], "occurrenceStatus" => ["present"], _ => [] };
        if (tokens.Length > 0) rules["enum"] = new JsonArray([.. tokens.Select(t => JsonValue.Create(t))]);
        return rules;
    }

    private static ImmutableArray<Term> List(string terms) => [.. terms.Split(' ').Select(t => t.TrimEnd('!').Split(':') is var parts ? new Term(parts[0], parts.Length > 1 ? parts[1] : "string", t.EndsWith('!')) : null!)];
}
