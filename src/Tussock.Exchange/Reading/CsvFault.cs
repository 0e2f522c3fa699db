namespace Tussock.Exchange.Reading;

/// <summary>What can be wrong with the bytes of a table before its cells mean anything.</summary>
internal enum CsvFaultKind
{
    /// <summary>A quote opens a cell and is never closed, or not within the limit of a row.</summary>
    UnclosedQuote,

    /// <summary>After the closing quote of a cell stands more text.</summary>
    TextAfterQuote,

    /// <summary>A byte of value 0, which no text has.</summary>
    ZeroByte,

    /// <summary>A row longer than <see cref="CsvLimits.RowBytes"/>.</summary>
    RowTooLong,

    /// <summary>A file longer than was allowed.</summary>
    FileTooLong,
}

/// <summary>One fault and where it stands.</summary>
/// <param name="Kind">What is wrong.</param>
/// <param name="Line">Line on which it begins, 1 = the first of the file.</param>
/// <param name="Cell">Index of the cell in its row, from 0.</param>
/// <param name="EndLine">Line on which it was noticed.</param>
internal readonly record struct CsvFault(CsvFaultKind Kind, int Line, int Cell, int EndLine);
