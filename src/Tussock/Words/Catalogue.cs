using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text;
using System.Text.Json;

namespace Tussock.Words;

/// <summary>The sentences of one language, and the way a <see cref="Phrase"/> becomes one of them.</summary>
/// <remarks>
/// Catalogues are JSON files (one a subject, key → sentence) in <c>Words/Catalogues/LANGUAGE</c>. In a sentence
/// <c>{name}</c> is an argument; <c>{name:percent}</c>, <c>{name:percent1}</c>, <c>{name:n0}</c> … <c>{name:n4}</c>, <c>{name:date}</c>,
/// <c>{name:day}</c> format it; <c>{name|one nest|# nests}</c> chooses by number, # being the number itself. Amounts in units (<c>{name:density}</c>, <c>{name:lengths2}</c>,
/// <c>{:an_area}</c>, …) are those of <see cref="UnitWords"/>. Loaded once; may be shared between threads.
/// </remarks>
public sealed class Catalogue
{
    private static readonly Lazy<Catalogue> LazyEnglish = new(() => Load("en"));
    private static readonly Lazy<FrozenDictionary<string, Catalogue>> LazyAll = new(() => Languages.ToFrozenDictionary(l => l, l => l == "en" ? English : Load(l), StringComparer.Ordinal));
    private readonly FrozenDictionary<string, string> sentences;

    private readonly Catalogue inBoth, inUs, inMetric;

    private Catalogue(string language, FrozenDictionary<string, string> sentences)
    {
        (Language, this.sentences, Units, inBoth) = (language, sentences, UnitChoice.Both, this);
        (inUs, inMetric) = (new Catalogue(this, UnitChoice.Us), new Catalogue(this, UnitChoice.Metric));
    }

    private Catalogue(Catalogue both, UnitChoice units) => (Language, sentences, Units, inBoth, inUs, inMetric) = (both.Language, both.sentences, units, both, this, this);

    /// <summary>English, the language of which every key must exist.</summary>
    public static Catalogue English => LazyEnglish.Value;

    /// <summary>The languages that have catalogues, English first.</summary>
    public static ImmutableArray<string> Languages { get; } = [.. Embedded.Names("words/").Select(n => n.Split('/')[1]).Distinct(StringComparer.Ordinal).OrderBy(l => l != "en").ThenBy(l => l, StringComparer.Ordinal)];

    /// <summary>The catalogue of a language; null when there is none.</summary>
    /// <param name="language">Its code, for example <c>es</c>; <c>es-MX</c> and <c>es_MX.UTF-8</c> mean it too.</param>
    public static Catalogue? Of(string language)
    {
        ArgumentNullException.ThrowIfNull(language);
        return LazyAll.Value.GetValueOrDefault(language.Split('-', '_', '.')[0].ToLowerInvariant());
    }

    /// <summary>Language code, for example <c>en</c>.</summary>
    public string Language { get; }

    /// <summary>Units in which amounts are said.</summary>
    public UnitChoice Units { get; }

    /// <summary>The same sentences with amounts in other units; always the same catalogue for the same units.</summary>
    public Catalogue In(UnitChoice units) => units switch { UnitChoice.Us => inBoth.inUs, UnitChoice.Metric => inBoth.inMetric, _ => inBoth };

    /// <summary>All keys, in ordinal order.</summary>
    public IEnumerable<string> Keys => sentences.Keys.Order(StringComparer.Ordinal);

    /// <summary>Loads the catalogues of a language.</summary>
    /// <param name="language">Folder name under <c>Words/Catalogues</c>.</param>
    /// <exception cref="ArgumentException">There is no such language, or a key stands twice.</exception>
    public static Catalogue Load(string language)
    {
        var all = new Dictionary<string, string>(StringComparer.Ordinal);
        var names = Embedded.Names("words/" + language + "/");
        if (names.IsEmpty) throw new ArgumentException("No catalogue for language " + language, nameof(language));
        foreach (var name in names)
        {
            using var json = JsonDocument.Parse(Embedded.Text(name));
            foreach (var entry in json.RootElement.EnumerateObject())
            {
                if (!all.TryAdd(entry.Name, entry.Value.GetString() ?? "")) throw new ArgumentException("Key stands twice: " + entry.Name, nameof(language));
            }
        }

        // A sentence that a language lacks is said in English rather than not at all.
        if (language != "en") foreach (var (key, sentence) in English.sentences) all.TryAdd(key, sentence);
        return new Catalogue(language, all.ToFrozenDictionary(StringComparer.Ordinal));
    }

    /// <summary>Whether the key has a sentence.</summary>
    public bool Has(string key) => sentences.ContainsKey(key);

    /// <summary>The sentence as it stands, before arguments come in.</summary>
    public string Template(string key) => sentences.TryGetValue(key, out var text) ? text : throw new ArgumentException("No sentence for " + key, nameof(key));

    /// <summary>Says a phrase with no arguments.</summary>
    public string Say(string key) => Say(Phrase.Of(key));

    /// <summary>Says a phrase in this language.</summary>
    /// <exception cref="ArgumentException">The key or an argument of its sentence is missing.</exception>
    public string Say(Phrase phrase)
    {
        var template = Template(phrase.Key);
        var text = new StringBuilder(template.Length + 32);
        for (var i = 0; i < template.Length; i++)
        {
            if (template[i] != '{')
            {
                text.Append(template[i]);
                continue;
            }

            var end = template.IndexOf('}', i);
            if (end < 0) throw new ArgumentException("Unclosed brace in the sentence of " + phrase.Key);
            text.Append(Slot(template.AsSpan(i + 1, end - i - 1), phrase));
            i = end;
        }

        return text.ToString();
    }

    private string Slot(ReadOnlySpan<char> slot, Phrase phrase)
    {
        var cut = slot.IndexOfAny(':', '|');
        if (slot is [':', ..]) return UnitWords.Name(this, slot[1..].ToString()) ?? throw new ArgumentException("Unknown unit in the sentence of " + phrase.Key);
        var name = (cut < 0 ? slot : slot[..cut]).ToString();
        object? value = null;
        foreach (var argument in phrase.Arguments) if (argument.Name == name) value = argument.Value;
        if (value is null) throw new ArgumentException("The phrase " + phrase.Key + " lacks its argument " + name);
        if (cut < 0) return Plain(value);
        var rest = slot[(cut + 1)..].ToString();
        if (slot[cut] == ':') return Formatted(value, rest, phrase.Key);
        var forms = rest.Split('|');
        var number = Convert.ToDouble(value);
        return (number == 1 ? forms[0] : forms[^1]).Replace("#", Plain(value), StringComparison.Ordinal);
    }

    private string Formatted(object value, string format, string key) => format switch
    {
        "percent" => Numbers.Percent(Convert.ToDouble(value)),
        "percent1" => Numbers.Percent(Convert.ToDouble(value), 1),
        "day" => value is string text ? text : Numbers.Day(Convert.ToDouble(value)),
        "date" when value is DateOnly date => Numbers.Date(date, this),
        ['n', var digits] when char.IsAsciiDigit(digits) => Numbers.Fixed(Convert.ToDouble(value), digits - '0'),
        _ => UnitWords.Amount(this, Convert.ToDouble(value), format) ?? throw new ArgumentException("Unknown format " + format + " in the sentence of " + key),
    };

    private string Plain(object value) => value switch
    {
        Phrase inner => Say(inner),
        string text => text,
        DateOnly date => Numbers.Date(date, this),
        double number => Numbers.Short(number),
        int or long => Numbers.Whole(Convert.ToInt64(value)),
        IEnumerable<string> list => string.Join(", ", list),
        IEnumerable<Phrase> list => string.Join(", ", list.Select(Say)),
        _ => Convert.ToString(value, System.Globalization.CultureInfo.InvariantCulture) ?? "",
    };
}
