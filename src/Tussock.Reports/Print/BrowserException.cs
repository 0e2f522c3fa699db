namespace Tussock.Reports.Print;

/// <summary>The browser did not start, did not answer, or could not print; the message is its own.</summary>
public sealed class BrowserException : Exception
{
    public BrowserException()
    {
    }

    public BrowserException(string message)
        : base(message)
    {
    }

    public BrowserException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
