namespace Tussock.Layout;

/// <summary>Names of new lines: the first letters of the pasture, as few as tell pastures apart, and a number.</summary>
internal sealed class LineNames
{
    private readonly Dictionary<(string Property, string Pasture), string> prefixes = [];
    private readonly Dictionary<string, int> last = new(StringComparer.Ordinal);
    private readonly HashSet<string> taken;

    internal LineNames(IEnumerable<(string Property, string Pasture)> pastures, IEnumerable<string> taken)
    {
        this.taken = new HashSet<string>(taken, StringComparer.OrdinalIgnoreCase);
        var used = new HashSet<string>(StringComparer.Ordinal);
        foreach (var pasture in pastures.Distinct())
        {
            var letters = string.Concat(pasture.Pasture.Where(char.IsLetter)).ToUpperInvariant();
            if (letters.Length == 0) letters = "P";
            var length = 1;
            while (length < letters.Length && used.Contains(letters[..length])) length++;
            var prefix = letters[..length];
            // Pastures of different properties may have the same name; then a letter says which.
            for (var i = 0; !used.Add(prefix); i++) prefix = letters[..length] + (i < 26 ? (char)('A' + i) : (char)('A' + (i % 26))) + new string('X', i / 26);
            prefixes.Add(pasture, prefix);
        }
    }

    /// <summary>The next name in a pasture.</summary>
    internal string Next((string Property, string Pasture) pasture)
    {
        var prefix = prefixes[pasture];
        while (true)
        {
            var number = last[prefix] = last.GetValueOrDefault(prefix) + 1;
            var name = prefix + number.ToString(System.Globalization.CultureInfo.InvariantCulture);
            if (taken.Add(name)) return name;
        }
    }
}
