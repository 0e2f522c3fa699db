namespace Tussock.Journal;

/// <summary>Signs drafts: who, on which device, when; running numbers and ids. Not to be shared between threads.</summary>
public sealed class Signature(TimeIds ids)
{
    private readonly Guid batch = ids.Next();

    /// <summary>Device.</summary>
    public required string Device { get; init; }

    /// <summary>Season.</summary>
    public required Guid Season { get; init; }

    /// <summary>Who.</summary>
    public required string By { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Running number on the device of the next change.</summary>
    public required long NextDeviceSeq { get; set; }

    /// <summary>Position in the data file of the next change.</summary>
    public required long NextPosition { get; set; }

    /// <summary>The next change of the batch.</summary>
    public Change Sign(Draft draft) => new()
    {
        Id = ids.Next(),
        Batch = batch,
        Device = Device,
        DeviceSeq = NextDeviceSeq++,
        Season = Season,
        Kind = draft.Kind,
        Record = draft.Record,
        Op = draft.Op,
        Fields = draft.Fields,
        By = By,
        SaidAt = At,
        CameAt = At,
        Source = draft.Source,
        Position = NextPosition++,
    };
}
