namespace Tussock.Models;

/// <summary>The patterns of one group by their effects, so that equal ones are added up however far apart they were met.</summary>
internal sealed class PatternsOfGroup(ModelTableMaker maker)
{
    private readonly Dictionary<Key, int> known = [];

    internal int Index(ReadOnlySpan<double> x)
    {
        var key = new Key(x.ToArray());
        if (!known.TryGetValue(key, out var index)) known.Add(key, index = maker.Pattern(x));
        return index;
    }

    private readonly record struct Key(double[] Effects)
    {
        public bool Equals(Key other) => Effects.AsSpan().SequenceEqual(other.Effects);

        public override int GetHashCode()
        {
            var hash = default(HashCode);
            foreach (var x in Effects) hash.Add(x);
            return hash.ToHashCode();
        }
    }
}
