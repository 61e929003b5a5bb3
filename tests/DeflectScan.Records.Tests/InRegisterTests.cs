using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Records.Comparing;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Records.Tests;

public class InRegisterTests
{
    /// <summary>
    /// The later photo is the earlier one seen from elsewhere: turned, shrunk, tilted (a homography of our own), its rod plane counted from another
    /// place. Laid on the earlier one, the two must be the same picture along the rod.
    /// </summary>
    [Fact]
    public void TheLaterPhotoIsLaidOnTheEarlierOne()
    {
        using UprightPhoto photo = PhotoOpener.Open(Repository.Photo("students-few"), PhotoLimits.Default).Value!;
        Measurement before = TruthMeasurement.From(Repository.Truth("students-few"), photo.Info);
        using Mat seen = Mat.FromArray(new[,] { { 0.82, -0.11, 420.0 }, { 0.13, 0.85, -60.0 }, { 1.2e-5, -0.9e-5, 1.0 } });
        using Mat picture = new();
        Cv2.WarpPerspective(photo.Bgr, picture, seen, photo.Bgr.Size(), InterpolationFlags.Area);
        using UprightPhoto later = new(photo.Info, picture.Clone());
        Vec2 Px(Vec2 p) => new(
            ((0.82 * p.X) - (0.11 * p.Y) + 420) / ((1.2e-5 * p.X) - (0.9e-5 * p.Y) + 1), ((0.13 * p.X) + (0.85 * p.Y) - 60) / ((1.2e-5 * p.X) - (0.9e-5 * p.Y) + 1));
        (double sine, double cosine) = Math.SinCos(0.4);
        Vec2 Mm(Vec2 p) => new((cosine * p.X) - (sine * p.Y) + 310, (sine * p.X) + (cosine * p.Y) - 95);
        Measurement after = before with
        {
            Blank = before.Blank! with { Axis = [.. before.Blank.Axis.Select(a => a with { Px = Px(a.Px), Mm = Mm(a.Mm) })] },
            Guides = [.. before.Guides.Select(g => g with { RingPx = Px(g.RingPx) })],
            Line = before.Line! with { VerticesPx = [.. before.Line.VerticesPx.Select(Px)] },
            Calibration = before.Calibration! with { Cards = [.. before.Calibration.Cards.Select(c => c with { OutlinePx = [.. c.OutlinePx.Select(Px)] })] },
        };

        Comparison comparison = Comparison.Of(before, after);
        Assert.InRange(comparison.Shape.RmsMm, 0, 1e-6);
        (byte[] first, byte[] second) = InRegister.Draw(comparison, photo, later);
        using Mat a = Cv2.ImDecode(first, ImreadModes.Grayscale);
        using Mat b = Cv2.ImDecode(second, ImreadModes.Grayscale);
        Assert.Equal(a.Size(), b.Size());
        using Mat difference = new();
        Cv2.Absdiff(a, b, difference);

        // Around the guides: the same to within what two samplings of a picture with noise cost, 8 of 255 grey levels; unlaid it is far more.
        double share = (double)a.Width / photo.Bgr.Width;
        double top = a.Height - (photo.Bgr.Height * share);
        foreach (Vec2 ring in before.Guides.Select(g => g.RingPx))
        {
            using Mat around = difference[Around(ring, share, top, difference)];
            Assert.InRange(Cv2.Mean(around).Val0, 0, 8);
        }

        using Mat unlaid = new();
        Cv2.Absdiff(photo.Grey, later.Grey, unlaid);
        Assert.True(Cv2.Mean(unlaid).Val0 > 12, $"the two photos differ by {Cv2.Mean(unlaid).Val0:0.0} grey levels before they are laid on each other");
    }

    private static Rect Around(Vec2 ring, double share, double top, Mat picture)
    {
        const int Half = 60;
        (int x, int y) = ((int)(ring.X * share), (int)((ring.Y * share) + (top / 2)));
        return new Rect(Math.Max(0, x - Half), Math.Max(0, y - Half), 2 * Half, 2 * Half) & new Rect(0, 0, picture.Width, picture.Height);
    }
}
