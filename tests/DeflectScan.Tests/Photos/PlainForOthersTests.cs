using System.Security.Cryptography;
using System.Text;
using DeflectScan.Photos;
using DeflectScan.Scenes.Attacks;
using OpenCvSharp;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Formats.Jpeg;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;
using SixLabors.ImageSharp.PixelFormats;

namespace DeflectScan.Tests.Photos;

/// <summary>Photos for other people: pixels as they were coded, position and serial numbers gone. EXIF by another program's writer (ImageSharp).</summary>
public class PlainForOthersTests
{
    private const string Secret = "SN-4711-secret";

    [Fact]
    public void PositionAndSerialNumbersAreGoneAndPixelsStay()
    {
        byte[] original = WithSecrets();
        Assert.True(Has(original, Secret));
        byte[] plain = PlainPhoto.Of(original).Value!.Bytes;
        Assert.False(Has(plain, Secret));
        Assert.False(Has(plain, "http://ns.adobe.com"));
        using (SixLabors.ImageSharp.Image read = SixLabors.ImageSharp.Image.Load(plain))
        {
            ExifProfile exif = read.Metadata.ExifProfile!;
            Assert.Null(exif.GetValue(ExifTag.GPSLatitude));
            Assert.Null(exif.GetValue(ExifTag.SerialNumber));
            Assert.Null(exif.GetValue(ExifTag.LensSerialNumber));
            Assert.Null(exif.GetValue(ExifTag.MakerNote));
            Assert.Equal("Phone", exif.GetValue(ExifTag.Model)!.Value);
        }

        using Mat before = Cv2.ImDecode(original, ImreadModes.Color | ImreadModes.IgnoreOrientation);
        using Mat after = Cv2.ImDecode(plain, ImreadModes.Color | ImreadModes.IgnoreOrientation);
        Assert.Equal(0, Cv2.Norm(before, after));
        Assert.Equal(Convert.ToHexString(Scan(original)), Convert.ToHexString(Scan(plain)));
    }

    /// <summary>What measuring reads of a photo is the same, and the pixels too, for every kind of file.</summary>
    [Fact]
    public void WhatMeasuringReadsStays()
    {
        int opened = 0;
        foreach ((string name, byte[] file) in SmallPictures.All)
        {
            using UprightPhoto? before = PhotoOpener.Open(file, "a", PhotoLimits.Default).Value;
            if (before is null)
                continue;
            byte[] plain = PlainPhoto.Of(file).Value!.Bytes;
            using UprightPhoto after = PhotoOpener.Open(plain, "a", PhotoLimits.Default).Value!;
            Assert.Equal(before.Info with { Sha256 = "" }, after.Info with { Sha256 = "" });
            Assert.True(Cv2.Norm(before.Bgr, after.Bgr) == 0, name);
            opened++;
        }

        Assert.True(opened > 3);
    }

    [Fact]
    public void WhatFollowsThePictureIsLeftOut()
    {
        byte[] file = [.. SmallPictures.All["jpeg-444"], .. Encoding.ASCII.GetBytes("a film with " + Secret)];
        Assert.False(Has(PlainPhoto.Of(file).Value!.Bytes, Secret));
    }

    [Fact]
    public void ACutPhotoIsRefused()
    {
        byte[] file = SmallPictures.All["jpeg-444"];
        for (int length = 3; length < file.Length; length += 41)
            Assert.True(PlainPhoto.Of(file[..length]).IsRefused);
        Assert.True(PlainPhoto.Of(new byte[] { 1, 2, 3 }).IsRefused);
    }

    private static byte[] WithSecrets()
    {
        using Image<Rgb24> image = new(64, 48, new Rgb24(90, 120, 30));
        ExifProfile exif = new();
        exif.SetValue(ExifTag.Model, "Phone");
        exif.SetValue(ExifTag.Orientation, (ushort)6);
        exif.SetValue(ExifTag.SerialNumber, Secret);
        exif.SetValue(ExifTag.LensSerialNumber, Secret);
        exif.SetValue(ExifTag.OwnerName, Secret);
        exif.SetValue(ExifTag.MakerNote, Encoding.ASCII.GetBytes(Secret));
        exif.SetValue(ExifTag.GPSLatitude, [new Rational(51), new Rational(30), new Rational(1)]);
        exif.SetValue(ExifTag.GPSLatitudeRef, "N");
        image.Metadata.ExifProfile = exif;
        using MemoryStream stream = new();
        image.SaveAsJpeg(stream, new JpegEncoder { Quality = 80 });
        byte[] jpeg = stream.ToArray();
        byte[] xmp = Encoding.ASCII.GetBytes("http://ns.adobe.com/xap/1.0/\0<x>" + Secret + "</x>");
        byte[] segment = [0xFF, 0xE1, (byte)((xmp.Length + 2) >> 8), (byte)(xmp.Length + 2), .. xmp, 0xFF, 0xFE, 0, (byte)(2 + Secret.Length), .. Encoding.ASCII.GetBytes(Secret)];
        return [.. jpeg[..2], .. segment, .. jpeg[2..]];
    }

    private static byte[] Scan(byte[] jpeg)
    {
        int at = jpeg.AsSpan().LastIndexOf((ReadOnlySpan<byte>)[0xFF, 0xDA]);
        return SHA256.HashData(jpeg.AsSpan(at));
    }

    private static bool Has(byte[] file, string text) => file.AsSpan().IndexOf(Encoding.ASCII.GetBytes(text)) >= 0;
}
