using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Results;
using Tussock.Review;

namespace Tussock.Desk;

/// <summary>What the desk knows of a season at one position of the journal, and the last answer that was computed.</summary>
/// <remarks>
/// Pages read this and nothing else. Its parts may stand at different positions, newest first: tables, then the season that was read of them with what was found
/// in it, then the results; each part is whole by itself. May be shared between threads.
/// </remarks>
public sealed record DeskAnswer
{
    /// <summary>Position of the journal that the tables stand at.</summary>
    public required long Position { get; init; }

    /// <summary>Id of the season.</summary>
    public required Guid SeasonId { get; init; }

    /// <summary>Title of the season, or its name while it can't be read.</summary>
    public required string Title { get; init; }

    /// <summary>The season's tables.</summary>
    public required SeasonTables Tables { get; init; }

    /// <summary>Records with a value on which people differ, by kind and id.</summary>
    public ImmutableArray<RecordState> Disputed { get; init; } = [];

    /// <summary>Position of the journal that the season stands at.</summary>
    public required long SeasonAt { get; init; }

    /// <summary>The tables that the season was read of: what the lines of findings and stops mean.</summary>
    public required SeasonTables ReadOf { get; init; }

    /// <summary>The season; null when something stops the reading.</summary>
    public Season? Season { get; init; }

    /// <summary>What stops the reading.</summary>
    public ImmutableArray<Problem> Stops { get; init; } = [];

    /// <summary>What a careful colleague finds, worst first.</summary>
    public ImmutableArray<Problem> Findings { get; init; } = [];

    /// <summary>How far the season has come.</summary>
    public SeasonProgress? Progress { get; init; }

    /// <summary>The last answer that was computed; null while the first is on its way.</summary>
    public SeasonResults? Results { get; init; }

    /// <summary>The numbers behind the pictures of that answer.</summary>
    public ReportNumbers? Numbers { get; init; }

    /// <summary>Position of the journal that the last answer stands at.</summary>
    public long ResultsAt { get; init; }

    /// <summary>What the latest change moved, from where to where.</summary>
    public ImmutableArray<Phrase> Moved { get; init; } = [];

    /// <summary>Local date of the season.</summary>
    public required DateOnly Today { get; init; }

    /// <summary>Whether that is the date where this computer stands, for want of a time zone of the season that it knows.</summary>
    public bool IsTodayOfComputer { get; init; }

    /// <summary>Position of the journal that all of it stands at; while a season can't be read there are no results to wait for.</summary>
    public long ReadyAt => Season is null ? SeasonAt : Math.Min(SeasonAt, ResultsAt);

    /// <summary>Whether a fault of the program keeps the answer of these records away.</summary>
    public bool IsBroken { get; init; }

    /// <summary>Whether the answer is older than the records.</summary>
    public bool IsUpdating => ReadyAt < Position;

    /// <summary>Values that people have written differently and nobody has settled.</summary>
    public IEnumerable<(RecordState Record, FieldState Field)> Conflicts => Disputed.SelectMany(r => r.Fields.Where(f => f.IsConflict && FieldName.Column(f.Name) is not null), (r, f) => (r, f));

    /// <summary>Id of the record that a place of a finding means; null when it means no row.</summary>
    public Guid? RecordAt(Place place)
    {
        if (place.Line is not { } line || ReadOf.Tables.FirstOrDefault(t => t.Kind.File == place.File) is not { } table || line - 2 < 0 || line - 2 >= table.Rows.Length) return null;
        var at = table.IndexOf("id");
        return at >= 0 && Guid.TryParse(table.Rows[line - 2].Cells[at], out var id) ? id : null;
    }
}
