using System.Collections.Immutable;

namespace Tussock;

/// <summary>A sentence for people before a language is chosen: a key of the catalogues and its named arguments.</summary>
/// <param name="Key">Key in the catalogues of <c>Words</c>, for example <c>survival.one_line</c>.</param>
/// <param name="Arguments">Named values, in the order in which they were given.</param>
/// <remarks>Equal when key and arguments are equal. May be shared between threads. Shown by <c>Words.Catalogue.Say</c>.</remarks>
public sealed record Phrase(string Key, ImmutableArray<PhraseArgument> Arguments)
{
    /// <summary>Makes a phrase from a key and named arguments.</summary>
    /// <param name="key">Key in the catalogues.</param>
    /// <param name="arguments">Pairs of name and value; values are numbers, dates, text or phrases.</param>
    /// <returns>The phrase.</returns>
    public static Phrase Of(string key, params ReadOnlySpan<(string Name, object Value)> arguments)
    {
        var list = ImmutableArray.CreateBuilder<PhraseArgument>(arguments.Length);
        foreach (var (name, value) in arguments) list.Add(new PhraseArgument(name, value));
        return new Phrase(key, list.MoveToImmutable());
    }

    /// <inheritdoc/>
    public bool Equals(Phrase? other) => other is not null && Key == other.Key && Arguments.SequenceEqual(other.Arguments);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Key, Arguments.Length);
}

/// <summary>One named value of a phrase.</summary>
/// <param name="Name">The name that the catalogue's sentence uses in braces.</param>
/// <param name="Value">A number, a <see cref="DateOnly"/>, text, or another <see cref="Phrase"/>.</param>
public readonly record struct PhraseArgument(string Name, object Value);
