using System.Globalization;
using System.Text;
using Tussock.Numerics;

namespace Tussock.Planning.Practice;

/// <summary>The sealed code of an invented season: its design in plain, its seed scrambled, a letter that catches slips of the pen.</summary>
/// <remarks>No secret: whoever works at it can undo it. It keeps the truth from being read by accident.</remarks>
internal static class PracticeCode
{
    /// <summary>Digits and letters that nobody mistakes for one another.</summary>
    private const string Letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    private const int BitsALetter = 5, SeedLetters = 13, Rounds = 4;
    private const string WithBelts = "B", WithoutBelts = "N";

    internal static string Of(PracticeDesign design, ulong seed)
    {
        var text = new StringBuilder().Append(CultureInfo.InvariantCulture, $"{design.Lines}-{design.Nests}-{design.FirstCheck}{(design.HasBelts ? WithBelts : WithoutBelts)}-");
        var hidden = Scrambled(seed, isBack: false);
        for (var i = SeedLetters - 1; i >= 0; i--) text.Append(Letters[(int)((hidden >> (BitsALetter * i)) & 31)]);
        return text.Append(CheckOf(text.ToString())).ToString();
    }

    internal static (PracticeDesign Design, ulong Seed)? Read(string? code)
    {
        var text = (code ?? "").Trim().ToUpperInvariant();
        if (text.Length < 2 || text[^1] != CheckOf(text[..^1]) || text.Split('-') is not [var lines, var nests, var check, { Length: SeedLetters + 1 } last] || check.Length < 2 || check[^1..] is not (WithBelts or WithoutBelts)) return null;
        ulong hidden = 0;
        foreach (var letter in last[..^1])
        {
            if (Letters.IndexOf(letter, StringComparison.Ordinal) is not (>= 0 and var bits)) return null;
            hidden = unchecked((hidden << BitsALetter) | (uint)bits);
        }

        if (Number(lines) is not { } l || Number(nests) is not { } n || Number(check[..^1]) is not { } c) return null;
        var design = new PracticeDesign(l, n, c, check[^1..] == WithBelts);
        return design.Wrong().IsEmpty && Of(design, Scrambled(hidden, isBack: true)) == text ? (design, Scrambled(hidden, isBack: true)) : null;
    }

    private static int? Number(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : null;

    private static char CheckOf(string text)
    {
        var sum = 7;
        foreach (var letter in text) sum = ((sum * 29) + letter) % 1021;
        return Letters[sum % Letters.Length];
    }

    /// <summary>Four turns of two halves, each moved by a mix of the other: the same turns in the other order undo it.</summary>
    private static ulong Scrambled(ulong seed, bool isBack)
    {
        var (left, right) = ((uint)(seed >> 32), (uint)(seed & uint.MaxValue));
        for (var turn = 0; turn < Rounds; turn++)
        {
            var key = (ulong)(isBack ? Rounds - turn : turn + 1) << 32;
            if (isBack) (left, right) = (right ^ Mixed(key | left), left);
            else (left, right) = (right, left ^ Mixed(key | right));
        }

        return ((ulong)left << 32) | right;
    }

    private static uint Mixed(ulong x) => (uint)(Seeded.SplitMix(ref x) >> 32);
}
