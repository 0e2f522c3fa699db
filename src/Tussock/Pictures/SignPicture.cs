using System.Collections.Frozen;
using Tussock.Evidence;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>Drawn signs: a small black-and-white picture of each value of the catalogue, for sheets and for the phone.</summary>
/// <remarks>
/// Drawings of our own, plain enough for a photocopier: what is there in black on white, what is absent crossed out. They show what the words
/// mean and nothing of who did it. Size 60 × 44 points.
/// </remarks>
public static class SignPicture
{
    /// <summary>Width in points.</summary>
    public const double Width = 60;

    /// <summary>Height in points.</summary>
    public const double Height = 44;

    private static readonly FrozenDictionary<(string Sign, string Value), Action<SignPen>> Drawings = new Dictionary<(string, string), Action<SignPen>>
    {
        [("shell_present", "none")] = p => { p.Bowl(30, 24, 17); p.Absent(30, 12); },
        [("shell_present", "few pieces")] = p => { p.Bowl(30, 24, 17); p.Chip(20, 19, 5); p.Chip(33, 18, 6); p.Chip(47, 36, 5); },
        [("shell_present", "most of the shell")] = p => { p.HalfShell(16, 22, 9); p.HalfShell(37, 20, 9); p.HalfShell(27, 38, 8); p.Chip(48, 34, 6); p.Chip(10, 36, 5); },
        [("fragment_size", "pulverised")] = p => { for (var i = 0; i < 26; i++) p.Chip(6 + (i * 29 % 49), 5 + (i * 13 % 23), 2.4); p.Measure(25, 42, 10, "< 1 cm"); },
        [("fragment_size", "small")] = p => { p.Chip(13, 16, 9); p.Chip(31, 12, 10); p.Chip(47, 20, 9); p.Chip(22, 32, 10); p.Chip(42, 34, 9); },
        [("fragment_size", "large")] = p => { p.HalfShell(19, 23, 13); p.HalfShell(43, 27, 12); },
        [("fragment_size", "whole egg with hole")] = p => { p.Egg(30, 22, 17); p.Hole(33, 20, 5); },
        [("fragment_size", "whole egg bitten")] = p => { p.Egg(30, 22, 17); p.Bite(44, 14, 9); },
        [("fragment_spread", "in bowl")] = p => { p.Bowl(30, 24, 18); p.Chip(22, 20, 6); p.Chip(31, 18, 7); p.Chip(39, 21, 6); },
        [("fragment_spread", "one place")] = p => { p.Bowl(14, 22, 11); p.Chip(38, 30, 7); p.Chip(44, 24, 7); p.Chip(47, 33, 6); p.Measure(14, 42, 32, "45 cm"); },
        [("fragment_spread", "several places")] = p => { p.Bowl(30, 22, 10); p.Chip(9, 11, 6); p.Chip(15, 14, 5); p.Chip(50, 12, 6); p.Chip(54, 17, 5); p.Chip(44, 39, 6); p.Chip(12, 37, 6); },
        [("fragment_spread", "far")] = p => { p.Bowl(11, 20, 9); p.Path(20, 24, 43, 33); p.Chip(50, 33, 7); p.Chip(55, 39, 5); },
        [("opening", "large end")] = p => { p.Egg(32, 22, 17); p.Hole(18, 22, 6.5); },
        [("opening", "small end")] = p => { p.Egg(28, 22, 17); p.Hole(44, 22, 5); },
        [("opening", "side")] = p => { p.Egg(30, 24, 17); p.Hole(29, 14, 6); },
        [("opening", "none")] = p => { p.Egg(30, 22, 17); },
        [("edges", "neat")] = p => p.OpenShell(30, 26, 15, 0),
        [("edges", "ragged")] = p => p.OpenShell(30, 26, 15, 4.5),
        [("edges", "crushed")] = p => { p.OpenShell(30, 30, 13, 3); p.Chip(12, 20, 6); p.Chip(24, 13, 6); p.Chip(37, 12, 7); p.Chip(49, 19, 6); },
        [("bite", "across the long axis")] = p => { p.HalfShell(14, 22, 12); p.HalfShell(46, 22, 12, turned: true); p.Dashed(30, 6, 30, 38); },
        [("bite", "tooth holes")] = p => { p.Egg(30, 22, 17); p.Spot(24, 15, 1.8); p.Spot(36, 15, 1.8); p.Spot(25, 29, 1.8); p.Spot(36, 28, 1.8); },
        [("bite", "none")] = p => { p.HalfShell(20, 22, 12); p.Chip(42, 18, 8); p.Chip(46, 30, 7); },
        [("peck_holes", "yes")] = p => { p.Egg(30, 22, 17); p.Hole(27, 19, 2.6); p.Hole(35, 24, 2.2); p.Hole(32, 14, 1.8); },
        [("peck_holes", "no")] = p => { p.Egg(30, 22, 17); p.Hole(27, 19, 2.6); p.Hole(35, 24, 2.2); p.Absent(30, 22); },
        [("yolk_left", "much")] = p => { p.Wet(30, 27, 22, 11); p.Spot(27, 26, 7); p.HalfShell(44, 14, 8); },
        [("yolk_left", "little")] = p => { p.Wet(27, 32, 9, 4); p.HalfShell(40, 16, 9); },
        [("yolk_left", "none")] = p => { p.HalfShell(18, 20, 10); p.HalfShell(41, 25, 10); },
        [("rooting", "yes")] = p => { p.Furrow(4, 20); p.Furrow(22, 26); p.Furrow(40, 20); p.Grass(9, 12); p.Grass(51, 13); },
        [("rooting", "no")] = p => { p.Grass(10, 30); p.Grass(24, 32); p.Grass(38, 30); p.Grass(51, 32); p.Ground(36); },
        [("bowl", "undisturbed")] = p => { p.Grass(10, 26); p.Grass(50, 26); p.Bowl(30, 22, 17); },
        [("bowl", "dug out")] = p => { p.Bowl(30, 24, 14, 15); p.Spot(8, 20, 2.5); p.Spot(13, 15, 2); p.Spot(51, 18, 2.5); p.Spot(47, 13, 2); p.Spot(54, 25, 2); },
        [("bowl", "cover torn away")] = p => { p.Bowl(20, 24, 13); p.Tuft(46, 32); p.Tuft(50, 16); },
        [("tracks", "present")] = p => { p.Track(20, 28, 1); p.Track(42, 18, 1); },
        [("tracks", "absent")] = p => { p.Track(30, 24, 1); p.Absent(30, 22); },
        [("scat", "present")] = p => { p.Scat(18, 26); p.Scat(36, 31); p.Ground(38); },
        [("scat", "absent")] = p => { p.Scat(26, 28); p.Absent(30, 22); },
        [("hair", "present")] = p => p.Hair(30, 24),
        [("hair", "absent")] = p => { p.Hair(30, 24); p.Absent(30, 22); },
        [("eggs_buried", "at the nest")] = p => { p.Bowl(18, 16, 12); p.Ground(24, 34, 58); p.Egg(45, 33, 8); p.Mound(45, 24, 11); },
        [("eggs_buried", "away")] = p => { p.Bowl(10, 16, 8); p.Path(20, 20, 34, 22); p.Ground(24, 34, 58); p.Egg(46, 33, 8); p.Mound(46, 24, 11); },
        [("contents", "fresh")] = p => { p.HalfShell(30, 18, 12); p.Wet(30, 34, 16, 6); p.Drop(50, 16); },
        [("contents", "dried")] = p => { p.HalfShell(30, 20, 12); p.Cracks(30, 34); },
        [("contents", "ants")] = p => { p.HalfShell(20, 20, 11); p.Ant(40, 16); p.Ant(48, 28); p.Ant(30, 36); },
        [("hoof_print", "present")] = p => { p.Hoof(22, 24); p.Hoof(42, 20); },
        [("hoof_print", "absent")] = p => { p.Hoof(30, 22); p.Absent(30, 22); },
    }.ToFrozenDictionary();

    /// <summary>The picture of one value.</summary>
    /// <param name="sign">The sign.</param>
    /// <param name="value">Its value as records spell it.</param>
    /// <param name="words">The language of its title.</param>
    /// <returns>SVG; null where nothing is drawn: numbers, and values of a region's own catalogue.</returns>
    public static string? Of(CatalogueSign sign, string value, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(sign);
        ArgumentNullException.ThrowIfNull(words);
        if (!Drawings.TryGetValue((sign.Sign, value), out var draw)) return null;
        var svg = new Svg(Width, Height, words.Say(sign.Name) + ": " + words.Say(sign.InWords(value)));
        draw(new SignPen(svg));
        return svg.ToString();
    }
}
