using System.Text;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary>Standard error without addresses of servers: they may hold passwords, and a message about a wrong command line repeats what was typed.</summary>
internal sealed class HidingWriter : TextWriter
{
    private readonly TextWriter inner;
    private readonly (string Typed, string Shown)[] hidden;

    private HidingWriter(TextWriter inner, (string Typed, string Shown)[] hidden) => (this.inner, this.hidden) = (inner, hidden);

    public override Encoding Encoding => inner.Encoding;

    /// <summary>The writer itself where nothing that was typed has to be hidden.</summary>
    internal static TextWriter Around(TextWriter inner, IEnumerable<string> typed)
    {
        // A name of a file is what stands behind the last slash, so such a piece is hidden too.
        var found = typed.Where(DataFile.IsOnServer).SelectMany(t => new[] { (t, DataFile.NameOf(t)), (Path.GetFileName(t), DataFile.NameOf(t)) }).Where(h => h.Item1.Contains('=', StringComparison.Ordinal) || h.Item1.Contains('@', StringComparison.Ordinal)).ToArray();
        return found.Length == 0 ? inner : new HidingWriter(inner, found);
    }

    public override void Write(char value) => inner.Write(value);

    public override void Write(char[] buffer, int index, int count) => Write(new string(buffer, index, count));

    public override void Write(string? value) => inner.Write(Hide(value));

    public override void WriteLine(string? value) => inner.WriteLine(Hide(value));

    public override void WriteLine(object? value) => WriteLine(value?.ToString());

    public override void Flush() => inner.Flush();

    private string? Hide(string? text) => hidden.Aggregate(text, (t, h) => t?.Replace(h.Typed, h.Shown, StringComparison.Ordinal));
}
