namespace Tussock.Reports;

/// <summary>Names in the order in which people count: line 2 before line 10.</summary>
public sealed class NaturalOrder : IComparer<string>
{
    private NaturalOrder()
    {
    }

    /// <summary>The order itself.</summary>
    public static NaturalOrder Names { get; } = new();

    /// <inheritdoc/>
    public int Compare(string? x, string? y)
    {
        var (a, b) = (Split(x ?? ""), Split(y ?? ""));
        var byText = string.CompareOrdinal(a.Text, b.Text);
        if (byText != 0) return byText;
        return a.Number != b.Number ? a.Number.CompareTo(b.Number) : string.CompareOrdinal(x, y);
    }

    /// <summary>The text before a number at the end, and that number; −1 where there is none.</summary>
    private static (string Text, long Number) Split(string name)
    {
        var cut = name.Length;
        while (cut > 0 && name.Length - cut < 9 && char.IsAsciiDigit(name[cut - 1])) cut--;
        return cut == name.Length ? (name, -1) : (name[..cut], long.Parse(name[cut..], System.Globalization.CultureInfo.InvariantCulture));
    }
}
