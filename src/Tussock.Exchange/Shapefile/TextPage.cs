using System.Text;

namespace Tussock.Exchange.Shapefile;

/// <summary>The encoding of a dBASE table's texts: what the .cpg says, else the table's own mark, else UTF-8 where that can be, else Western European.</summary>
internal sealed class TextPage
{
    private static readonly UTF8Encoding Strict = new(false, true);
    private static readonly Encoding Western = CodePagesEncodingProvider.Instance.GetEncoding(1252)!;
    private readonly Encoding? named;

    private TextPage(Encoding? named) => this.named = named;

    /// <summary>The encoding of a table.</summary>
    /// <param name="page">Text of the .cpg file: UTF-8, ISO 8859-1, 1252, ANSI 1252 …; empty where there is none.</param>
    /// <param name="mark">Byte 29 of the table.</param>
    internal static TextPage Of(string page, byte mark)
    {
        var digits = string.Concat(page.Where(char.IsAsciiDigit));
        var plain = page.Trim().ToUpperInvariant();
        if (plain is "UTF-8" or "UTF8" or "65001") return new TextPage(Encoding.UTF8);
        if (plain.StartsWith("ISO", StringComparison.Ordinal) && digits.StartsWith("8859", StringComparison.Ordinal) && digits.Length > 4) return new TextPage(Numbered("iso-8859-" + digits[4..]));
        if (digits.Length is > 2 and < 6 && Numbered(int.Parse(digits, System.Globalization.CultureInfo.InvariantCulture)) is { } numbered) return new TextPage(numbered);
        return new TextPage(mark switch { 0x01 => Numbered(437), 0x02 => Numbered(850), 0x03 or 0x57 => Western, 0xC8 => Numbered(1250), 0xC9 => Numbered(1251), _ => null });
    }

    internal string Text(ReadOnlySpan<byte> bytes)
    {
        if (named is not null) return named.GetString(bytes);
        try
        {
            return Strict.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            // Nobody said what it is, and it is no UTF-8: the format's old usual one.
            return Western.GetString(bytes);
        }
    }

    private static Encoding? Numbered(int page) => CodePagesEncodingProvider.Instance.GetEncoding(page);

    private static Encoding? Numbered(string name) => CodePagesEncodingProvider.Instance.GetEncoding(name) ?? (name == "iso-8859-1" ? Encoding.Latin1 : null);
}
