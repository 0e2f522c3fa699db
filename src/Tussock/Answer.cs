using System.Diagnostics.CodeAnalysis;

namespace Tussock;

/// <summary>A value, or the reason why there is none. Failure of data is a value, never an exception and never NaN.</summary>
/// <typeparam name="T">The type of the value.</typeparam>
/// <remarks><c>return value;</c> and <c>return new NoAnswer(why);</c> both convert. May be shared between threads if T may.</remarks>
public readonly record struct Answer<T>
{
    private readonly T value;

    private Answer(T value, Phrase? why) => (this.value, Why) = (value, why);

    /// <summary>The reason why there is no value; null when there is one.</summary>
    public Phrase? Why { get; }

    /// <summary>Whether there is a value.</summary>
    [MemberNotNullWhen(false, nameof(Why))]
    public bool HasValue => Why is null;

    /// <summary>The value.</summary>
    /// <exception cref="InvalidOperationException">There is none; ask <see cref="HasValue"/> first.</exception>
    public T Value => Why is null ? value : throw new InvalidOperationException("There is no value: " + Why.Key);

    /// <summary>The value, or <paramref name="otherwise"/> when there is none.</summary>
    public T? Or(T? otherwise) => Why is null ? value : otherwise;

    /// <summary>The answer with its value passed through <paramref name="change"/>; a reason stays as it is.</summary>
    public Answer<TOut> Then<TOut>(Func<T, TOut> change) => Why is null ? change(value) : new NoAnswer(Why);

    /// <summary>A value is an answer.</summary>
    [SuppressMessage("Usage", "CA2225", Justification = "The conversion is the way to make one; a second door would only be another name.")]
    public static implicit operator Answer<T>(T value) => new(value, null);

    /// <summary>A reason is an answer.</summary>
    [SuppressMessage("Usage", "CA2225", Justification = "The conversion is the way to make one; a second door would only be another name.")]
    public static implicit operator Answer<T>(NoAnswer none) => new(default!, none.Why);
}

/// <summary>The reason why a number can't be had.</summary>
/// <param name="Why">The sentence for people.</param>
public sealed record NoAnswer(Phrase Why)
{
    /// <summary>Makes a reason from a catalogue key and named arguments.</summary>
    public static NoAnswer Because(string key, params ReadOnlySpan<(string Name, object Value)> arguments) => new(Phrase.Of(key, arguments));
}
