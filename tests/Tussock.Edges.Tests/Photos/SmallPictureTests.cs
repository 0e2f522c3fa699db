using System.Text;
using SkiaSharp;
using Tussock.Exchange.Photos;
using Xunit;

namespace Tussock.Edges.Tests.Photos;

/// <summary>Small views stand upright whatever way the camera was held, and carry nothing of the original but what can be seen.</summary>
public sealed class SmallPictureTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("tussock-small-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    /// <summary>Where the corner that stands upper left in the upright picture lies in the stored one, by orientation: Exif 2.32, tag 0x0112 ("the 0th row at the visual top …").</summary>
    public static TheoryData<int, int, int> Corners => new() { { 1, 0, 0 }, { 2, 1, 0 }, { 3, 1, 1 }, { 4, 0, 1 }, { 5, 0, 0 }, { 6, 0, 1 }, { 7, 1, 1 }, { 8, 1, 0 } };

    [Theory]
    [MemberData(nameof(Corners))]
    public void All_eight_orientations_stand_upright(int orientation, int right, int low)
    {
        using var small = SKBitmap.Decode(SmallPicture.Of(Written(Picture(800, 400, right, low, orientation))));
        var (wide, high) = orientation >= 5 ? (160, 320) : (320, 160);

        Assert.Equal((wide, high), (small.Width, small.Height));
        Assert.True(IsRed(small.GetPixel(wide / 8, high / 8)), "upper left");
        Assert.False(IsRed(small.GetPixel(wide * 7 / 8, high / 8)), "upper right");
        Assert.False(IsRed(small.GetPixel(wide / 8, high * 7 / 8)), "lower left");
    }

    [Fact]
    public void A_small_picture_is_not_made_larger_and_has_no_exif()
    {
        var bytes = SmallPicture.Of(Written(Picture(40, 20, 0, 0, 6)))!;
        using var small = SKBitmap.Decode(bytes);
        Assert.Equal((20, 40), (small.Width, small.Height));
        Assert.DoesNotContain("Exif", Encoding.Latin1.GetString(bytes), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_no_picture_gives_none_and_what_breaks_off_shows_what_there_is()
    {
        Assert.Null(SmallPicture.Of(Written("no picture"u8.ToArray())));
        Assert.Null(SmallPicture.Of(Written([])));
        var whole = Picture(800, 400, 0, 0, 1);
        Assert.NotNull(SmallPicture.Of(Written(whole[..(whole.Length * 2 / 3)])));
        var random = new Random(1);
        for (var n = 0; n < 300; n++)
        {
            var broken = (byte[])whole.Clone();
            for (var k = 0; k < 8; k++) broken[random.Next(broken.Length)] = (byte)random.Next(256);
            SmallPicture.Of(Written(broken));
        }
    }

    private static bool IsRed(SKColor colour) => colour is { Red: > 150, Blue: < 100 };

    private string Written(byte[] bytes)
    {
        var path = Path.Combine(folder, "picture");
        File.WriteAllBytes(path, bytes);
        return path;
    }

    /// <summary>A blue picture with one red quarter, and an orientation written into it.</summary>
    private static byte[] Picture(int width, int height, int right, int low, int orientation)
    {
        using var surface = SKSurface.Create(new SKImageInfo(width, height));
        surface.Canvas.Clear(SKColors.Blue);
        using var red = new SKPaint { Color = SKColors.Red };
        surface.Canvas.DrawRect(SKRect.Create(right * width / 2, low * height / 2, width / 2, height / 2), red);
        using var image = surface.Snapshot();
        using var jpeg = image.Encode(SKEncodedImageFormat.Jpeg, 90);
        var bytes = jpeg.ToArray();
        byte[] exif = [.. "Exif\0\0MM\0*"u8, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, (byte)orientation, 0, 0, 0, 0, 0, 0];
        return [0xFF, 0xD8, 0xFF, 0xE1, 0, (byte)(exif.Length + 2), .. exif, .. bytes[2..]];
    }
}
