using Microsoft.EntityFrameworkCore;
using Tussock.Journal;

namespace Tussock.Store.Tables;

/// <summary>How rows lie in tables, the same for every database.</summary>
internal static class Mapping
{
    /// <summary>Table of a kind of record.</summary>
    internal static string TableOf(string kind) => kind is JournalKind.Season or JournalKind.Table or JournalKind.Text ? "folder_" + kind : kind;

    internal static void Map(ModelBuilder model)
    {
        model.Entity<ChangeRow>(t =>
        {
            t.ToTable("change").HasKey(c => c.Id);
            t.HasIndex(c => new { c.Device, c.DeviceSeq }).IsUnique();
            t.HasIndex(c => c.Position).IsUnique();
            t.HasIndex(c => c.Record);
        });
        model.Entity<FieldHead>(t => t.ToTable("field_head").HasKey(h => new { h.Record, h.Field, h.Change }));
        model.Entity<ImportRow>(t =>
        {
            t.ToTable("import_row").HasKey(r => r.Record);
            t.HasIndex(r => r.Season);
        });
        model.Entity<ImportFields>(t => t.ToTable("import_fields").HasKey(f => new { f.Season, f.Kind }));
        model.Entity<FileDevice>(t =>
        {
            t.ToTable("file_device").HasKey(d => d.Id);
            t.Property(d => d.Id).ValueGeneratedNever();
        });
        model.Entity<PhoneRow>(t => t.ToTable("phone").HasKey(p => p.Device));
        model.Entity<PersonRow>(t =>
        {
            t.ToTable("person").HasKey(p => p.Id);
            t.HasIndex(p => p.NameKey).IsUnique();
        });
        model.Entity<PasskeyRow>(t =>
        {
            t.ToTable("passkey").HasKey(p => p.Id);
            t.HasIndex(p => p.Person);
        });
        model.Entity<WitnessedRow>(t => t.ToTable("witnessed").HasKey(w => w.Id));
        foreach (var kind in JournalKind.All)
        {
            model.SharedTypeEntity<RecordEntry>(kind, t =>
            {
                t.ToTable(TableOf(kind)).HasKey(r => r.Id);
                t.HasIndex(r => new { r.Season, r.Key });
            });
        }

        Snake(model);
    }

    /// <summary>Columns are spelled as in the folder: lower case with underscores.</summary>
    private static void Snake(ModelBuilder model)
    {
        foreach (var type in model.Model.GetEntityTypes())
        {
            foreach (var property in type.GetProperties()) property.SetColumnName(Snake(property.Name));
        }
    }

    private static string Snake(string name) => string.Concat(name.Select((c, i) => char.IsAsciiLetterUpper(c) ? (i > 0 ? "_" : "") + char.ToLowerInvariant(c) : c.ToString()));
}
