using CsCheck;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Unrolled;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using OpenCvSharp;

namespace DeflectScan.Tests.Reporting;

public class UnrolledStripTests
{
    [Theory]
    [InlineData("clean-spinning")]
    [InlineData("casting-top")]
    [InlineData("rotated-exif")]
    public void AStationAndAHeightComeBackFromThePhoto(string name)
    {
        Unrolling unrolling = Scene(name);
        foreach (double s in (double[])[0, 130, 555, 1010])
        {
            foreach (double up in (double[])[-9, 0, 11.5])
            {
                Vec2 back = unrolling.Unroll(unrolling.ToPlane(new Vec2(s, up)), s + 3);
                Assert.Equal(s, back.X, 6);
                Assert.Equal(up, back.Y, 6);
                Vec2 strip = unrolling.ToStrip(new Vec2(s, up));
                Vec2 again = unrolling.FromStrip(strip.X, strip.Y);
                Assert.True(again.DistanceTo(new Vec2(s, up)) < 1e-9);
            }
        }
    }

    /// <summary>The rings of a spinning rod that points right hang below the blank, those of a casting rod stand on it, as in the photo.</summary>
    [Fact]
    public void GuidesStandOnTheSideWhereThePhotoHasThem()
    {
        Assert.False(Scene("clean-spinning").GuidesUp);
        Assert.True(Scene("casting-top").GuidesUp);
        Assert.True(Scene("casting-top").TipRight);
    }

    /// <summary>A rod that points left: its tip is on the left of the strip, its rings stay below, and the mirror's plane is right.</summary>
    [Fact]
    public void ARodThatPointsLeftIsUnrolledToTheLeft()
    {
        using MirroredScene scene = MirroredScene.Of("clean-spinning");
        Unrolling unrolling = new(scene.Plane, scene.Axis, scene.Measurement, new UnrolledOptions());
        Assert.False(unrolling.TipRight);
        Assert.False(unrolling.GuidesUp);
        for (int i = 0; i < scene.Measurement.Guides.Count; i++)
        {
            Assert.Equal(scene.Measurement.Guides[i].StationMm, unrolling.RingsMm[i].X, 0.05);
            Assert.Equal(scene.Measurement.Guides[i].HeightMm, -unrolling.RingsMm[i].Y, 0.05);
        }

        double tipX = unrolling.ToStrip(new Vec2(0, 0)).X;
        Assert.True(tipX < unrolling.ToStrip(new Vec2(500, 0)).X);
    }

    /// <summary>In the straightened band the dark blank lies on the axis: its two edges stand equally far from it, by the truth's plane and axis.</summary>
    [Fact]
    public void TheBlankLiesFlatOnTheAxis()
    {
        Unrolling unrolling = Scene("clean-spinning");
        using UprightPhoto photo = ScenePhoto.Open(Path.Combine(Repository.TestImages, "clean-spinning"));
        using Mat band = BandSampler.Sample(photo.Bgr, unrolling);
        using Mat grey = new();
        Cv2.CvtColor(band, grey, ColorConversionCodes.BGR2GRAY);
        foreach (double s in (double[])[180, 350, 540, 740, 930, 1100])
        {
            // From the background inward on both sides, so that the gloss on the blank does not count.
            double[] dark = [.. Enumerable.Range(-90, 181).Select(i => i / 10.0).Where(up => Grey(s, up) < 145)];
            Assert.True(dark.Length > 0, $"no blank at {s}");
            Assert.True(Math.Abs(dark[0] + dark[^1]) / 2 < 0.4, $"the blank runs from {dark[0]} to {dark[^1]} mm off the axis at {s}");
        }

        double Grey(double s, double up) => Enumerable.Range(-8, 17).Average(k =>
        {
            Vec2 px = unrolling.ToStrip(new Vec2(s + k, up));
            return (double)grey.At<byte>((int)px.Y, (int)px.X);
        });
    }

    [Fact]
    public void LabelsInALaneNeverOverlap() =>
        Gen.Select(Gen.Double[0, 1000], Gen.Double[20, 150]).Array[1, 20].Sample(wanted =>
        {
            IReadOnlyList<(double X, int Row)> placed = Lane.Arrange(wanted, 4, 1000);
            for (int i = 0; i < wanted.Length; i++)
            {
                Assert.InRange(placed[i].X, wanted[i].Item2 / 2, 1000 - (wanted[i].Item2 / 2));
                for (int j = 0; j < i; j++)
                {
                    bool apart = placed[i].Row != placed[j].Row
                        || Math.Abs(placed[i].X - placed[j].X) >= ((wanted[i].Item2 + wanted[j].Item2) / 2) - 1e-9;
                    Assert.True(apart);
                }
            }
        }, iter: 300);

    [Fact]
    public void TheSamePhotoGivesTheSameBytesWithOneThreadAndWithMany()
    {
        string name = "clutter-bench";
        using UprightPhoto photo = ScenePhoto.Open(Path.Combine(Repository.TestImages, name));
        Truth truth = Repository.Truth(name);
        Measurement m = TruthMeasurement.From(truth, photo.Info);
        BlankAxis axis = TruthMeasurement.Axis(truth);
        int threads = Cv2.GetNumThreads();
        try
        {
            byte[] many = UnrolledStrip.Draw(photo, truth.RodPlane(), axis, m);
            Cv2.SetNumThreads(1);
            Assert.Equal(many, UnrolledStrip.Draw(photo, truth.RodPlane(), axis, m));
            using Mat drawn = Cv2.ImDecode(many, ImreadModes.Color);
            Assert.Equal(2400, drawn.Cols);
        }
        finally
        {
            Cv2.SetNumThreads(threads);
        }
    }

    private static Unrolling Scene(string name)
    {
        Truth truth = Repository.Truth(name);
        PhotoInfo info = new("photo.jpg", "", truth.Image.Displayed[0], truth.Image.Displayed[1], 1, null, null, null, null, null, null, null);
        return new Unrolling(truth.RodPlane(), TruthMeasurement.Axis(truth), TruthMeasurement.From(truth, info), new UnrolledOptions());
    }
}
