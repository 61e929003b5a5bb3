using DeflectScan.Calibration;
using DeflectScan.Geometry;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using OpenCvSharp;

namespace DeflectScan.Tests.Calibration;

/// <summary>Straight pieces projected by OpenCV's own camera model (Cv2.ProjectPoints), with noise, must give back its radial distortion.</summary>
public class PlumbLinesTests
{
    private const double FocalPx = 3100;

    private static readonly CameraModel Ideal = new(FocalPx, new Vec2(2015.5, 1511.5), 0, 0, 0, 0, 0);

    [Theory]
    [InlineData(0.02)]
    [InlineData(-0.025)]
    [InlineData(0)]
    public void Long_pieces_give_back_the_distortion_within_what_is_stated(double k1)
    {
        const int Trials = 40;
        int inside = 0;
        for (int seed = 1; seed <= Trials; seed++)
        {
            LensPrior prior = Prior(k1Sd: 0.03);
            LensPrior joined = PlumbLines.Joined(prior, Ideal, Pieces(k1, seed, noisePx: 0.05));
            double sd = Math.Sqrt(joined.Information.Inverse()[3, 3]);
            Assert.InRange(sd, 0.001, 0.02);
            inside += Math.Abs(joined.Mean[3] - k1) < 2 * sd ? 1 : 0;
        }

        // 95 % expected; 34 of 40 or fewer would come about by chance in 2 % of runs with other seeds (binomial distribution).
        Assert.True(inside >= 35, $"only {inside} of {Trials} within twice the stated standard deviation");
    }

    [Fact]
    public void Where_it_is_worked_out_hardly_matters_within_what_cards_leave_open()
    {
        IReadOnlyList<StraightPiece> pieces = Pieces(0.02, seed: 3, noisePx: 0.03);
        double near = PlumbLines.Joined(Prior(0.03), Ideal with { K1 = 0.024 }, pieces).Mean[3];
        double far = PlumbLines.Joined(Prior(0.03), Ideal with { K1 = 0.014 }, pieces).Mean[3];
        Assert.Equal(near, far, 0.001);
    }

    [Fact]
    public void Short_or_few_places_say_nothing()
    {
        IReadOnlyList<StraightPiece> pieces = Pieces(0.02, seed: 1, noisePx: 0.05);
        LensPrior prior = Prior(0.03);
        Assert.Same(prior, PlumbLines.Joined(prior, Ideal, []));
        Assert.Same(prior, PlumbLines.Joined(prior, Ideal, [.. pieces.Select(p => new StraightPiece([.. p.Points.Take(7)]))]));
    }

    [Fact]
    public void A_bent_end_of_a_piece_does_not_pass_for_a_lens()
    {
        IReadOnlyList<StraightPiece> straight = Pieces(0, seed: 5, noisePx: 0.05);
        StraightPiece[] bent = [.. straight.Select(p => new StraightPiece([.. p.Points.Select((q, i) => (i < 3 ? q.Px + new Vec2(1.5, 1.5) : q.Px, q.SdPx))]))];
        LensPrior joined = PlumbLines.Joined(Prior(0.03), Ideal, bent);
        Assert.InRange(joined.Mean[3], -3 * Math.Sqrt(joined.Information.Inverse()[3, 3]), 3 * Math.Sqrt(joined.Information.Inverse()[3, 3]));
    }

    private static LensPrior Prior(double k1Sd)
    {
        double[] sd = [60, 20, 20, k1Sd, 0.02, 0.0005, 0.0005];
        return new LensPrior(
            "exif", [FocalPx, 2015.5, 1511.5, 0, 0, 0, 0], Matrix<double>.Build.DenseDiagonal(7, 7, i => 1 / (sd[i] * sd[i])), 0);
    }

    // Ten pieces of 300 to 700 px as a rod's line has them, all away from the middle, a place each 14 px.
    private static List<StraightPiece> Pieces(double k1, int seed, double noisePx)
    {
        Random random = new(seed);
        Normal noise = new(0, noisePx, random);
        double[,] camera = { { FocalPx, 0, 2015.5 }, { 0, FocalPx, 1511.5 }, { 0, 0, 1 } };
        List<StraightPiece> pieces = [];
        for (int k = 0; k < 10; k++)
        {
            double angle = random.NextDouble() * Math.PI;
            double length = 0.1 + (0.13 * random.NextDouble());
            double x = (random.NextDouble() - 0.5) * 0.9;
            double y = (random.NextDouble() - 0.5) * 0.7;
            int count = (int)(length * FocalPx / 14);
            Point3f[] straight = [.. Enumerable.Range(0, count).Select(i => new Point3f(
                (float)(x + (Math.Cos(angle) * length * ((i / (count - 1.0)) - 0.5))), (float)(y + (Math.Sin(angle) * length * ((i / (count - 1.0)) - 0.5))), 1))];
            Cv2.ProjectPoints(straight, [0, 0, 0], [0, 0, 0], camera, [k1, 0, 0, 0], out Point2f[] seen, out _);
            pieces.Add(new StraightPiece([.. seen.Select(p => (new Vec2(p.X + noise.Sample(), p.Y + noise.Sample()), noisePx))]));
        }

        return pieces;
    }
}
