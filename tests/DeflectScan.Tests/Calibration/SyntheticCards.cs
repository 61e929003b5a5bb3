using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tests.Calibration;

/// <summary>How a synthetic card stands: middle in the rod plane, turn in it, height over it towards the camera, lean about its own axes.</summary>
internal sealed record StandingCard(char Letter, Vec2 MiddleMm, double TurnDeg = 0, double HeightMm = 0, double LeanXDeg = 0, double LeanYDeg = 0);

/// <summary>
/// Corner sightings projected from known cards through a known lens, with normal noise: independent of any picture. The camera is a
/// phone's: 4032 × 3024, about 27 mm equivalent, 1.7 m away, a few degrees off square; lens and pose vary with the seed.
/// </summary>
internal sealed class SyntheticCards
{
    public const int WidthPx = 4032;
    public const int HeightPx = 3024;
    private readonly double[] _r;
    private readonly double[] _t;
    private readonly Random _random;

    /// <param name="seed">Of lens, pose and noise.</param>
    /// <param name="tiltSdDeg">Spread of the two tilts.</param>
    /// <param name="yawDeg">A sideways tilt on top.</param>
    /// <param name="moreK1">Radial distortion on top of a phone's.</param>
    public SyntheticCards(int seed, double tiltSdDeg = 6, double yawDeg = 0, double moreK1 = 0)
    {
        _random = new Random(seed);
        double focal35 = 27 + (_random.NextDouble() - 0.5);
        FocalInExif = Math.Round(focal35);
        double k1 = (0.02 * Normal()) + moreK1;
        Camera = new CameraModel(
            focal35 / 43.2666153 * 5040, new Vec2(2015.5 + (12 * Normal()), 1511.5 + (12 * Normal())),
            k1, -0.45 * k1, 0.0003 * Normal(), 0.0003 * Normal(), 0.12 * k1);
        double rad = Math.PI / 180;
        // x right and y up in the plane, y down in the picture: half a turn about x first, then the camera's small tilts.
        _r = Rotations.Multiply(Rotations.FromVector(tiltSdDeg * rad * Normal(), (yawDeg + (tiltSdDeg * Normal())) * rad, 2 * rad * Normal()), [1, 0, 0, 0, -1, 0, 0, 0, -1]);
        _t = [40 * Normal(), 40 * Normal(), 1700 + (100 * Normal())];
        Plane = new RodPlane(Camera, [_r[0], _r[1], _t[0], _r[3], _r[4], _t[1], _r[6], _r[7], _t[2]]);
    }

    public CameraModel Camera { get; }

    /// <summary>The exact plane.</summary>
    public RodPlane Plane { get; }

    public double FocalInExif { get; }

    public PhotoInfo Info => TestPhoto.Info(WidthPx, HeightPx, FocalInExif);

    /// <summary>Two cards 1 m apart, as they stand beside a rod.</summary>
    public static StandingCard[] Two => [new('A', new Vec2(-350, -150), 90), new('B', new Vec2(600, -50), 12)];

    /// <summary>Three cards that span the bend.</summary>
    public static StandingCard[] Three => [new('A', new Vec2(-450, 150), 90), new('B', new Vec2(550, 100), -15), new('C', new Vec2(-200, -450), 90)];

    /// <summary>What the camera sees of a card.</summary>
    public CardSighting See(StandingCard card, double noisePx)
    {
        double rad = Math.PI / 180;
        double[] stand = Rotations.Multiply(
            Rotations.FromVector(0, 0, card.TurnDeg * rad), Rotations.FromVector(card.LeanXDeg * rad, card.LeanYDeg * rad, 0));
        List<CardCorner> corners = [];
        for (int i = 0; i < ScaleCard.InnerCorners; i++)
        {
            Vec2 mm = PlaneProblem.InCardMm(ScaleCard.InnerCornerMm(i), 1);
            double x = (stand[0] * mm.X) + (stand[1] * mm.Y) + card.MiddleMm.X;
            double y = (stand[3] * mm.X) + (stand[4] * mm.Y) + card.MiddleMm.Y;
            double z = (stand[6] * mm.X) + (stand[7] * mm.Y) + card.HeightMm;
            double depth = (_r[6] * x) + (_r[7] * y) + (_r[8] * z) + _t[2];
            Vec2 seen = new(
                ((_r[0] * x) + (_r[1] * y) + (_r[2] * z) + _t[0]) / depth,
                ((_r[3] * x) + (_r[4] * y) + (_r[5] * z) + _t[1]) / depth);
            corners.Add(new CardCorner(i, Camera.Distort(seen) + new Vec2(noisePx * Normal(), noisePx * Normal())));
        }

        return new CardSighting(card.Letter, ScaleCard.MarkersPerCard, corners[0].Px.DistanceTo(corners[1].Px), corners);
    }

    public CardSighting[] See(IEnumerable<StandingCard> cards, double noisePx) => [.. cards.Select(c => See(c, noisePx))];

    /// <summary>Standard normal (Box and Muller 1958).</summary>
    private double Normal() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());
}
