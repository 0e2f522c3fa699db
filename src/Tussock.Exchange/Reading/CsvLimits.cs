namespace Tussock.Exchange.Reading;

/// <summary>How much of a file is read before the reader says no. They bound memory and time, whatever the bytes say.</summary>
internal sealed record CsvLimits
{
    /// <summary>The limits of the season folder.</summary>
    internal static CsvLimits Usual { get; } = new();

    /// <summary>Bytes of one row, and so of one cell: 1 MiB.</summary>
    internal int RowBytes { get; init; } = 1 << 20;

    /// <summary>Columns of a header.</summary>
    internal int Columns { get; init; } = 2_000;

    /// <summary>Rows of one file.</summary>
    internal int Rows { get; init; } = 5_000_000;

    /// <summary>Bytes of one file: 512 MiB.</summary>
    internal long FileBytes { get; init; } = 512L << 20;

    /// <summary>Bytes looked at in a file that is too long, so that what is wrong at its beginning is said as well.</summary>
    internal long GlanceBytes { get; init; } = 4L << 20;

    /// <summary>Bytes of <c>datapackage.json</c>: 16 MiB.</summary>
    internal long DescriptionBytes { get; init; } = 16L << 20;

    /// <summary>Problems told one by one for a file; the others are counted.</summary>
    internal int ProblemsTold { get; init; } = 200;
}
