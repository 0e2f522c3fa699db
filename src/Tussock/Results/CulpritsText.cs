using Tussock.Records;

namespace Tussock.Results;

/// <summary>Writes who was it.</summary>
internal sealed class CulpritsText(JsonText json)
{
    internal void Write(Culprits culprits, Season season)
    {
        var writer = json.Writer;
        writer.WriteStartObject("culprits");
        writer.WriteStartArray("nests");
        foreach (var nest in culprits.Nests) Nest(nest);
        writer.WriteEndArray();
        writer.WriteStartArray("composition");
        var several = season.Pastures.Select(p => p.Property).Distinct(StringComparer.Ordinal).Count() > 1;
        foreach (var row in culprits.Compositions.Where(c => c.Level != GroupLevel.Property || several)) Composition(row);
        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    private void Nest(NestCulprit nest)
    {
        var writer = json.Writer;
        writer.WriteStartObject();
        writer.WriteString("transect", nest.Fate.Nest.Transect.Name);
        writer.WriteNumber("nest", nest.Fate.Nest.Number);
        writer.WriteStartObject("belief");
        for (var k = 0; k < nest.Belief.Culprits.Length; k++) writer.WriteNumber(nest.Belief.Culprits[k], nest.Belief.Chances[k]);
        writer.WriteEndObject();
        json.Text("confirmed", nest.Confirmed);
        writer.WriteEndObject();
    }

    private void Composition(CompositionRow row)
    {
        foreach (var share in row.Composition.Shares)
        {
            var writer = json.Writer;
            writer.WriteStartObject();
            writer.WriteString("level", row.Level switch { GroupLevel.Season => "season", GroupLevel.Property => "property", _ => "pasture" });
            writer.WriteString("name", row.Name);
            json.Text("property", row.Property);
            writer.WriteString("class", share.Culprit);
            json.Estimate("share", share.Share);
            json.Estimate("share_with_remains", share.ShareWithRemains);
            json.Number("naive", share.Naive);
            if (share.Naive is null) writer.WriteString("naive_why", json.Say(Phrase.Of("results.no_losses")));
            writer.WriteEndObject();
        }
    }
}
