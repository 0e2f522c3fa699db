namespace Tussock.Exchange.Spreadsheet;

/// <summary>How much of a workbook is read before the reader says no. They bound memory and time, whatever the file says of itself.</summary>
internal sealed record SheetLimits
{
    /// <summary>The limits of <c>import</c>.</summary>
    internal static SheetLimits Usual { get; } = new();

    /// <summary>Bytes of the file: 512 MiB.</summary>
    internal long FileBytes { get; init; } = 512L << 20;

    /// <summary>Bytes of all parts together when they are unpacked: 1 GiB.</summary>
    internal long UnpackedBytes { get; init; } = 1L << 30;

    /// <summary>Bytes without the end of a tag: an XML reader holds them all. 96 MiB.</summary>
    internal long TagBytes { get; init; } = 96L << 20;

    /// <summary>Parts of the file.</summary>
    internal int Parts { get; init; } = 10_000;

    /// <summary>Characters of all shared texts together.</summary>
    internal long SharedCharacters { get; init; } = 64L << 20;

    /// <summary>Filled cells of all sheets together.</summary>
    internal int Cells { get; init; } = 20_000_000;

    /// <summary>Columns of a sheet that are looked at.</summary>
    internal int Columns { get; init; } = 2_000;

    /// <summary>Cells that merged ranges may fill.</summary>
    internal int MergedCells { get; init; } = 1_000_000;
}

/// <summary>What makes a file no workbook that can be read.</summary>
internal enum WorkbookFault
{
    /// <summary>Broken, or something else.</summary>
    Damaged,

    /// <summary>An old binary workbook, or one locked by a password.</summary>
    OldOrLocked,

    /// <summary>A workbook of another format.</summary>
    OpenDocument,

    /// <summary>Larger than <see cref="SheetLimits"/> allow.</summary>
    TooLarge,

    /// <summary>The disk gives no bytes.</summary>
    Unreadable,
}

/// <summary>Ends the reading of a workbook.</summary>
/// <param name="fault">Why.</param>
internal sealed class WorkbookFaultException(WorkbookFault fault) : Exception("The workbook can't be read: " + fault)
{
    /// <summary>Why.</summary>
    internal WorkbookFault Fault => fault;
}
