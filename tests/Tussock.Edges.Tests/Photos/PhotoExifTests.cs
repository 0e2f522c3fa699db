using Tussock.Exchange.Photos;
using Xunit;

namespace Tussock.Edges.Tests.Photos;

/// <summary>Time and place are read as the standard lays them down; broken ones count as not written.</summary>
public class PhotoExifTests
{
    public static TheoryData<bool, string> Ways => new() { { true, "jpeg" }, { false, "jpeg" }, { true, "png" }, { false, "png" }, { true, "heif" }, { false, "heif" } };

    [Theory]
    [MemberData(nameof(Ways))]
    public void Time_offset_place_and_accuracy_are_read(bool isLittle, string kind)
    {
        var picture = new WrittenPicture { IsLittle = isLittle, At = (27.026410, -98.493334), AccuracyM = 7 };
        var bytes = Bytes(picture, kind);

        var exif = PhotoExif.Read(bytes);

        Assert.Equal(new DateTime(2026, 5, 25, 8, 35, 10, DateTimeKind.Unspecified), exif.TakenAt);
        Assert.Equal(TimeSpan.FromHours(-5), exif.Offset);
        Assert.Equal(27.026410, exif.At!.Value.Latitude, 6);
        Assert.Equal(-98.493334, exif.At.Value.Longitude, 6);
        Assert.Equal(7, exif.AccuracyM);
    }

    [Theory]
    [InlineData("0000:00:00 00:00:00", "-05:00")]
    [InlineData("    :  :     :  :  ", "+25:00")]
    [InlineData("2026-05-25 08:35:10", "local")]
    public void What_cannot_be_read_counts_as_not_written(string taken, string offset)
    {
        var exif = PhotoExif.Read(new WrittenPicture { TakenAt = taken, Offset = offset, At = (0, 0) }.Jpeg());

        Assert.Null(exif.TakenAt);
        Assert.True(exif.Offset is null || offset == "-05:00");
        Assert.Null(exif.At);
    }

    [Fact]
    public void Whatever_the_bytes_say_nothing_outside_them_is_read()
    {
        var draw = new Random(20_260_516);
        for (var i = 0; i < 20_000; i++)
        {
            var bytes = Bytes(new WrittenPicture { IsLittle = i % 2 == 0, At = (27.0, -98.0), AccuracyM = 7 }, new[] { "jpeg", "png", "heif" }[i % 3]);
            for (var k = draw.Next(1, 10); k > 0; k--) bytes[draw.Next(bytes.Length)] = draw.Next(4) == 0 ? (byte)255 : (byte)draw.Next(256);
            if (draw.Next(3) == 0) bytes = bytes[..draw.Next(bytes.Length)];

            var exif = PhotoExif.Read(bytes);

            Assert.True(exif.At is not { } at || (Math.Abs(at.Latitude) <= 90 && Math.Abs(at.Longitude) <= 180));
        }
    }

    private static byte[] Bytes(WrittenPicture picture, string kind) => kind switch { "jpeg" => picture.Jpeg(), "png" => picture.Png(), _ => picture.Heif() };
}
