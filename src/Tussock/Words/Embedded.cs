using System.Collections.Immutable;
using System.Reflection;

namespace Tussock.Words;

/// <summary>The one door to data that lies inside the core's assembly: catalogues of words and of signs.</summary>
/// <remarks>Reads the assembly only; the same bytes on every machine and at every call.</remarks>
public static class Embedded
{
    /// <summary>Names of the embedded texts that begin with <paramref name="prefix"/>, in ordinal order.</summary>
    public static ImmutableArray<string> Names(string prefix) =>
        [.. Assembly.GetManifestResourceNames().Where(n => n.StartsWith(prefix, StringComparison.Ordinal)).Order(StringComparer.Ordinal)];

    /// <summary>The text with this name.</summary>
    /// <exception cref="ArgumentException">There is none.</exception>
    public static string Text(string name)
    {
        // The assembly's own data is part of the program, not of the world outside: the only stream that the core opens.
#pragma warning disable RS0030
        using var stream = Assembly.GetManifestResourceStream(name) ?? throw new ArgumentException("No embedded text " + name, nameof(name));
        using var reader = new System.IO.StreamReader(stream, System.Text.Encoding.UTF8);
        return reader.ReadToEnd();
#pragma warning restore RS0030
    }

    private static Assembly Assembly => typeof(Embedded).Assembly;
}
