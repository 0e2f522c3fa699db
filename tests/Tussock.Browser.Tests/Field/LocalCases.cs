using System.Net;
using System.Security.Cryptography;
using System.Text.RegularExpressions;

namespace Tussock.Browser.Tests.Field;

/// <summary>A season with one nest whose culprit a camera saw and a photo of what lay there, and the lead's choice at the desk.</summary>
internal static partial class LocalCases
{
    internal static Dictionary<string, string> Files()
    {
        var files = new Dictionary<string, string>(PlannedSeason.Files("Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n"), StringComparer.Ordinal)
        {
            ["nests.csv"] = "transect,nest,cover,set_on,eggs,status\nT1,1,bunchgrass,2026-05-04,3,set\nT1,2,bunchgrass,2026-05-04,3,set\n",
            ["visits.csv"] = "transect,nest,visited_on,finding,eggs_intact\nT1,1,2026-05-18,depredated,0\nT1,2,2026-05-18,intact,3\n",
            ["remains.csv"] = "transect,nest,visited_on,sign,value\nT1,1,2026-05-18,shell_present,most of the shell\nT1,1,2026-05-18,fragment_size,large\nT1,1,2026-05-18,bowl,dug out\n",
            ["cameras.csv"] = "transect,nest,event_at,culprit,certainty,took_eggs,role,eggs_taken\nT1,1,2026-05-10T23:10,raccoon,sure,yes,took_first,3\n",
            ["media.csv"] = $"media,type,transect,nest\n{Convert.ToHexStringLower(SHA256.HashData(Picture))},image/png,T1,1\n",
        };
        return files;
    }

    /// <summary>The photo, put where originals stand, and chosen as a lead does.</summary>
    internal static async Task ChooseAsync(FieldDesk desk)
    {
        var originals = Directory.CreateDirectory(desk.Data + ".media").FullName;
        await File.WriteAllBytesAsync(Path.Combine(originals, Convert.ToHexStringLower(SHA256.HashData(Picture))), Picture);
        using var browser = new HttpClient { BaseAddress = new Uri(new Uri(desk.Address), "/") };
        var page = WebUtility.HtmlDecode(await browser.GetStringAsync(new Uri("/cases", UriKind.Relative)));
        var (token, id) = (Token().Match(page), Shown().Match(page).Groups["id"].Value);
        var answer = await browser.PostAsync(new Uri("/cases", UriKind.Relative), new FormUrlEncodedContent(new Dictionary<string, string> { [token.Groups["name"].Value] = token.Groups["value"].Value, ["w." + id] = "", ["v." + id] = "yes", ["looked"] = "yes" }));
        answer.EnsureSuccessStatusCode();
    }

    internal static byte[] Picture { get; } = Drawn();

    private static byte[] Drawn()
    {
        using var surface = SkiaSharp.SKSurface.Create(new SkiaSharp.SKImageInfo(1600, 1200));
        surface.Canvas.Clear(SkiaSharp.SKColors.SandyBrown);
        using var image = surface.Snapshot();
        using var png = image.Encode();
        return png.ToArray();
    }

    [GeneratedRegex("name=\"w\\.(?<id>[0-9a-f-]{36})\"")]
    private static partial Regex Shown();

    [GeneratedRegex("<input type=\"hidden\" name=\"(?<name>__[^\"]*)\" value=\"(?<value>[^\"]*)\"")]
    private static partial Regex Token();
}
