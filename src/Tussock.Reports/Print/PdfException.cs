namespace Tussock.Reports.Print;

/// <summary>A PDF could not be printed: the browser did not start, did not answer in time, or refused.</summary>
public sealed class PdfException : Exception
{
    /// <summary>A fault without words.</summary>
    public PdfException()
    {
    }

    /// <summary>A fault.</summary>
    public PdfException(string message)
        : base(message)
    {
    }

    /// <summary>A fault with what led to it.</summary>
    public PdfException(string message, Exception cause)
        : base(message, cause)
    {
    }
}
