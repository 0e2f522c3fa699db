using System.Globalization;
using System.Text;
using Tussock.Numerics;

namespace Tussock.Planning.Practice;

/// <summary>The sealed code of an invented season: its design in plain, its seed scrambled, two letters that catch slips of the pen.</summary>
/// <remarks>No secret: whoever works at it can undo it. It keeps the truth from being read by accident.</remarks>
internal static class PracticeCode
{
    /// <summary>Digits and letters, without those that are mistaken for one another.</summary>
    private const string Letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
    private const int BitsALetter = 5, SeedLetters = 13, CheckLetters = 2, Rounds = 4;
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
        if (text.Length <= CheckLetters || text[^CheckLetters..] != CheckOf(text[..^CheckLetters]) || text.Split('-') is not [var lines, var nests, var check, { Length: SeedLetters + CheckLetters } last] || check.Length < 2 || check[^1..] is not (WithBelts or WithoutBelts)) return null;
        ulong hidden = 0;
        foreach (var letter in last[..SeedLetters])
        {
            if (Letters.IndexOf(letter, StringComparison.Ordinal) is not (>= 0 and var bits)) return null;
            hidden = unchecked((hidden << BitsALetter) | (uint)bits);
        }

        if (Number(lines) is not { } l || Number(nests) is not { } n || Number(check[..^1]) is not { } c) return null;
        var design = new PracticeDesign(l, n, c, check[^1..] == WithBelts);
        return design.Wrong().IsEmpty && Of(design, Scrambled(hidden, isBack: true)) == text ? (design, Scrambled(hidden, isBack: true)) : null;
    }

    private static int? Number(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : null;

    /// <summary>A sum over a prime, larger than any two letters differ: one wrong letter always changes it.</summary>
    private static string CheckOf(string text)
    {
        const int Prime = 1021, Weight = 29;
        var sum = 0;
        foreach (var letter in text) sum = ((sum * Weight) + letter) % Prime;
        return new string([Letters[sum >> BitsALetter], Letters[sum & 31]]);
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
