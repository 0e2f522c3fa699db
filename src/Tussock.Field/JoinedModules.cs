using System.Text;
using System.Text.RegularExpressions;

namespace Tussock.Field;

/// <summary>All modules of the app as one: forty questions over a thin line, or to the worker that keeps the app, are forty times a wait.</summary>
/// <remarks>Each module becomes a function that gives back what others take from it, in an order in which everything is there before it is taken. Only the plain forms are read that the app uses: <c>import { a, b as c } from './x.js';</c> and <c>export</c> before a declaration or a list.</remarks>
internal static partial class JoinedModules
{
    /// <summary>Path of the joined file, which is made here and is no file of its own.</summary>
    internal const string Path = "joined.js";

    /// <summary>The module that begins, as another one beside it would name it.</summary>
    private const string Entry = "./app.js";

    /// <summary>The joined text.</summary>
    /// <param name="texts">Texts of all modules by path.</param>
    /// <exception cref="InvalidDataException">Modules take from each other in a circle, one is missing, or a form is used that is not read here.</exception>
    internal static string Of(IReadOnlyDictionary<string, string> texts)
    {
        var order = new List<string>();
        Order(Entry[2..], texts, order, []);
        var taken = order.SelectMany(p => Imports(p, texts[p])).ToLookup(i => i.From, i => i.Names);
        var joined = new StringBuilder("const $ = {};\n");
        foreach (var path in order) Append(joined, path, texts[path], taken[path].SelectMany(n => n).Select(n => n.Name).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal));
        return joined.ToString();
    }

    private static void Order(string path, IReadOnlyDictionary<string, string> texts, List<string> order, HashSet<string> open)
    {
        if (order.Contains(path)) return;
        if (!open.Add(path)) throw new InvalidDataException("Modules take from each other in a circle: " + string.Join(", ", open));
        if (!texts.TryGetValue(path, out var text)) throw new InvalidDataException("There is no module " + path);
        foreach (var import in Imports(path, text)) Order(import.From, texts, order, open);
        order.Add(path);
    }

    private static void Append(StringBuilder joined, string path, string text, IEnumerable<string> given)
    {
        joined.Append("$['").Append(path).Append("'] = (() => {\n");
        foreach (var import in Imports(path, text)) joined.Append("const { ").AppendJoin(", ", import.Names.Select(n => n.Name == n.As ? n.Name : n.Name + ": " + n.As)).Append(" } = $['").Append(import.From).Append("'];\n");
        var body = Declared().Replace(Listed().Replace(Import().Replace(text, ""), ""), "");
        if (Left().Match(body) is { Success: true } left) throw new InvalidDataException(path + ": " + left.Value);
        joined.Append(Comment().Replace(body, "").Trim()).Append("\nreturn { ").AppendJoin(", ", given).Append(" };\n})();\n");
    }

    private static IEnumerable<(string From, (string Name, string As)[] Names)> Imports(string path, string text) => Import().Matches(text).Select(m =>
        (new Uri(new Uri("app:///" + path), m.Groups["from"].Value).AbsolutePath[1..],
            m.Groups["names"].Value.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(n => n.Split(" as ") is [var name, var other] ? (name, other) : (n, n)).ToArray()));

    [GeneratedRegex(@"^import \{(?<names>[^}]*)\} from '(?<from>\.[^']+)';\r?\n", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Import();

    [GeneratedRegex(@"^export \{[^}]*\};\r?$", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Listed();

    [GeneratedRegex(@"^export (?=(const|let|function|async function|class) )", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Declared();

    /// <summary>A comment that has its lines to itself: phones need not carry it.</summary>
    [GeneratedRegex(@"^[ \t]*/\*\*((?!\*/)[\s\S])*\*/[ \t]*\r?\n", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Comment();

    [GeneratedRegex(@"^(import|export)\b.*$", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Left();
}
