using System.Collections.Immutable;
using Microsoft.AspNetCore.Http;
using Tussock.Journal;

namespace Tussock.App.Serving.Desk;

/// <summary>Reads the form of a record: <c>v.column</c> is the value, <c>w.column</c> what stood there, <c>h.column</c> the changes behind it, <c>s.column</c> a choice that settles.</summary>
internal static class RecordFields
{
    internal static List<EditedField> Of(IFormCollection form)
    {
        var fields = new List<EditedField>();
        foreach (var name in form.Keys.Where(k => k.StartsWith("v.", StringComparison.Ordinal)))
        {
            var column = name[2..];
            var settles = form["s." + column].ToString();
            fields.Add(new EditedField(column, form["w." + column].ToString(), settles.StartsWith('=') ? settles[1..] : form[name].ToString(), Heads(form["h." + column].ToString()), settles.StartsWith('=')));
        }

        return fields;
    }

    /// <summary>The changes that a page showed behind a value.</summary>
    internal static ImmutableArray<Guid> Heads(string text) => [.. text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(h => Guid.TryParse(h, out var id) ? id : Guid.Empty)];
}
