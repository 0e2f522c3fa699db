using SkiaSharp;

namespace Tussock.Exchange.Photos;

/// <summary>A small view of a picture: upright, and without anything that the camera wrote into the original, its place among it.</summary>
public static class SmallPicture
{
    /// <summary>Pixels of the longer side, when nothing else is asked for.</summary>
    public const int LargestSide = 320;

    private const long MostPixels = 100_000_000;
    private const int Quality = 80;

    /// <summary>Makes the small view.</summary>
    /// <param name="path">The original; it is only read.</param>
    /// <param name="largestSide">Pixels of the longer side at most.</param>
    /// <returns>A JPEG; null when the file is no picture that can be read, or has more than a hundred million pixels.</returns>
    /// <source>Turning by orientation 1 to 8: Exif 2.32 (CIPA DC-008-2019), tag 0x0112.</source>
    public static byte[]? Of(string path, int largestSide = LargestSide)
    {
        using var codec = SKCodec.Create(path);
        if (codec is null || (long)codec.Info.Width * codec.Info.Height > MostPixels) return null;
        using var read = Read(codec, largestSide);
        if (read is null) return null;
        var isTurned = codec.EncodedOrigin >= SKEncodedOrigin.LeftTop;
        var (width, height) = isTurned ? (read.Height, read.Width) : (read.Width, read.Height);
        var scale = Math.Min(1f, largestSide / (float)Math.Max(width, height));
        using var surface = SKSurface.Create(new SKImageInfo(Math.Max(1, (int)Math.Round(width * scale)), Math.Max(1, (int)Math.Round(height * scale))));
        surface.Canvas.Clear(SKColors.White);
        surface.Canvas.Scale(surface.Canvas.DeviceClipBounds.Width / (float)width, surface.Canvas.DeviceClipBounds.Height / (float)height);
        var upright = Upright(codec.EncodedOrigin, read.Width, read.Height);
        surface.Canvas.Concat(in upright);
        using var image = SKImage.FromBitmap(read);
        surface.Canvas.DrawImage(image, 0, 0, new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        using var drawn = surface.Snapshot();
        using var bytes = drawn.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return bytes.ToArray();
    }

    /// <summary>Reads no more of a large picture than the small one needs, where its form allows that.</summary>
    private static SKBitmap? Read(SKCodec codec, int largestSide)
    {
        var enough = Math.Min(1f, 2f * largestSide / Math.Max(codec.Info.Width, codec.Info.Height));
        var size = codec.GetScaledDimensions(enough);
        var info = new SKImageInfo(size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul);
        var bitmap = new SKBitmap(info);
        // A picture that breaks off shows what there is of it.
        if (codec.GetPixels(info, bitmap.GetPixels()) is SKCodecResult.Success or SKCodecResult.IncompleteInput) return bitmap;
        bitmap.Dispose();
        return null;
    }

    private static SKMatrix Upright(SKEncodedOrigin origin, float width, float height) => origin switch
    {
        SKEncodedOrigin.TopRight => new SKMatrix(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new SKMatrix(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new SKMatrix(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new SKMatrix(0, -1, height, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new SKMatrix(0, -1, height, -1, 0, width, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new SKMatrix(0, 1, 0, -1, 0, width, 0, 0, 1),
        _ => SKMatrix.Identity,
    };
}
