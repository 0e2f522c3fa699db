using System.Collections.Immutable;
using Microsoft.AspNetCore.Http;
using Tussock.App.Serving.People;
using Tussock.Desk;
using Tussock.Desk.Pages;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Results;
using Tussock.Store.Media;

namespace Tussock.App.Serving.Desk;

/// <summary>Nests from here as cases to practise on: a lead looks at their photos and chooses. The choice is a field of each photo's record, so that it has a history and can be undone.</summary>
internal sealed class DeskCases(ServedSeason served, MediaStore media)
{
    internal const string Path = "/cases";
    private const string Chosen = "yes", Prefix = "w.";

    internal (Type, Dictionary<string, object?>, int) Page(DeskAnswer answer, bool isSaved) => Page(answer, isSaved, null, StatusCodes.Status200OK);

    /// <summary>Writes what was ticked about one nest; null when it is written, else the page that says why not.</summary>
    internal (Type, Dictionary<string, object?>, int)? Keep(DeskAnswer answer, IFormCollection form, string by)
    {
        // A field w.ID for each photo that the form showed: what was chosen then.
        var shown = form.Keys.Where(k => k.StartsWith(Prefix, StringComparison.Ordinal)).Select(k => (Id: k[Prefix.Length..], Was: form[k].ToString(), Now: form["v." + k[Prefix.Length..]].ToString() == Chosen ? Chosen : "")).ToArray();
        if (shown.Any(p => p.Now == Chosen) && form["looked"] != Chosen) return Page(answer, isSaved: false, Phrase.Of("cases.not_looked"), StatusCodes.Status422UnprocessableEntity);
        var drafts = ImmutableArray.CreateBuilder<Draft>();
        var offered = Offered(answer).Where(o => o.Missing is null).SelectMany(o => o.Photos.Select(p => p.Record)).ToHashSet(StringComparer.Ordinal);
        foreach (var (text, was, now) in shown)
        {
            // Only photos that the page offered: it leaves out those of cameras and of sheets.
            if (!Guid.TryParse(text, out var id) || !offered.Contains(text) || served.File.Changes(id) is not { IsEmpty: false } changes) return Page(answer, isSaved: false, Phrase.Of("cases.changed"), StatusCodes.Status409Conflict);
            var record = Fold.Record(changes);
            var field = record.Field(FieldName.OfColumn(SeasonCases.Column));
            if (record.Season != answer.SeasonId || (field?.Value ?? "") != was) return Page(answer, isSaved: false, Phrase.Of("cases.changed"), StatusCodes.Status409Conflict);
            if (RecordEdit.Of(RecordKind.Media, record, [new EditedField(SeasonCases.Column, was, now, [.. field?.HeadIds ?? []])]).Draft is { } draft) drafts.Add(draft);
        }

        if (drafts.Count > 0) served.File.Write(answer.SeasonId, drafts.ToImmutable(), by, served.Clock.GetUtcNow());
        return null;
    }

    /// <summary>Whether a visitor may send this form of a record: nobody but a lead says that a photo may be shown, or changes which photo it is that was chosen.</summary>
    internal static bool MayWrite(HttpContext context, RecordState record, IFormCollection form) => record.Kind != RecordKind.Media.Name || WhoMay.Of(HttpMethods.Post, Path).HasFlag(WhoMay.As(Visitor.Of(context)))
        || (record.Field(FieldName.OfColumn(SeasonCases.Column))?.Value != Chosen && form["column"] != SeasonCases.Column && RecordFields.Of(form).All(f => f.Column != SeasonCases.Column || !f.IsTouched));

    private (Type, Dictionary<string, object?>, int) Page(DeskAnswer answer, bool isSaved, Phrase? wrong, int status) =>
        (typeof(CasesPage), new() { ["Offered"] = Offered(answer), ["IsSaved"] = isSaved, ["Wrong"] = wrong }, status);

    /// <summary>As the journal stands, not as the last answer does: a choice is seen at once. Photos whose bytes are not here can't be looked at.</summary>
    private ImmutableArray<CaseOffered> Offered(DeskAnswer answer) => SeasonReading.Read(served.File.Tables(served.Season.Name), out _) is not { } season ? []
        : [.. SeasonCases.Of(season).Offered.Select(o => o with { Photos = [.. o.Photos.Where(p => media.PathOf(p.Hash) is not null)] }).Select(o => o is { Missing: null, Photos.IsEmpty: true } ? o with { Missing = Phrase.Of("cases.missing_photos") } : o)];
}
