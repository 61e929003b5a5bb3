using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;

namespace DeflectScan.Calibration;

/// <summary>
/// The bundle adjustment's model: one lens, one plane, cards lying in it. Unknowns in order: f, cx, cy, k1, k2, p1, p2; the plane's
/// rotation vector (relative to a start) and translation; x, y, angle of every card but the first, which is the plane's frame;
/// height over the plane and lean about the card's own two axes, for the cards that may stand off the plane.
/// Plane and card frames: mm, x right, y up, z towards the camera, the card's middle its origin.
/// </summary>
internal sealed class PlaneProblem
{
    private const int PoseAt = LensPrior.Count;
    private const int CardsAt = PoseAt + 6;
    private readonly Vec2[] _cornerMm;
    private readonly Vec2[] _cornerPx;
    private readonly int[] _cardOf;
    private readonly double[] _startRotation;
    private readonly double _cardScale;
    private readonly int[] _standAt;
    private readonly double[] _reliefMm;
    private readonly Func<int, Vec2, double>? _relief;

    /// <param name="cards">The sightings; the first one is the plane's frame.</param>
    /// <param name="cardScale">Printed size over nominal size.</param>
    /// <param name="startRotation">Row-major 3 × 3 rotation about which the plane's rotation is solved.</param>
    /// <param name="k3">Fixed sixth-order distortion.</param>
    /// <param name="mayStand">Whether a card, by its place in the list, may stand off the plane.</param>
    /// <param name="relief">How far a card's corner (its place in the card frame) stands out of the card's own plane, mm; null: flat cards.</param>
    public PlaneProblem(IReadOnlyList<CardSighting> cards, double cardScale, double[] startRotation, double k3, Func<int, bool> mayStand, Func<int, Vec2, double>? relief = null)
    {
        Cards = cards;
        K3 = k3;
        _startRotation = startRotation;
        _cardScale = cardScale;
        _cornerMm = [.. cards.SelectMany(c => c.Corners.Select(k => InCardMm(ScaleCard.InnerCornerMm(k.Index), cardScale)))];
        _cornerPx = [.. cards.SelectMany(c => c.Corners.Select(k => k.Px))];
        _cardOf = [.. cards.SelectMany((c, i) => c.Corners.Select(_ => i))];
        _relief = relief;
        _reliefMm = [.. _cornerMm.Select((mm, i) => relief?.Invoke(_cardOf[i], mm) ?? 0)];
        Unknowns = CardsAt + (3 * (cards.Count - 1));
        _standAt = new int[cards.Count];
        for (int c = 0; c < cards.Count; c++)
        {
            _standAt[c] = mayStand(c) ? Unknowns : -1;
            Unknowns += mayStand(c) ? 3 : 0;
        }
    }

    public IReadOnlyList<CardSighting> Cards { get; }

    public double K3 { get; }

    public int Unknowns { get; }

    public int Corners => _cornerPx.Length;

    /// <summary>Which card a corner belongs to.</summary>
    public IReadOnlyList<int> CardOf => _cardOf;

    /// <summary>Where a card's height (mm) and two leans (radians) begin among the unknowns; -1 for a card held in the plane.</summary>
    public int StandAt(int card) => _standAt[card];

    /// <summary>The same model with other cards allowed to stand off the plane.</summary>
    public PlaneProblem With(Func<int, bool> mayStand) => new(Cards, _cardScale, _startRotation, K3, mayStand, _relief);

    /// <summary>The same model with cards that are held to be of another shape or place than flat in the plane.</summary>
    public PlaneProblem WithRelief(Func<int, Vec2, double> relief) => new(Cards, _cardScale, _startRotation, K3, c => _standAt[c] >= 0, relief);

    /// <summary>From the print frame (top-left, y down) to the card frame (middle, y up), the print's scale obeyed.</summary>
    public static Vec2 InCardMm(Vec2 printMm, double cardScale) =>
        new((printMm.X - (ScaleCard.PatternWidthMm / 2)) * cardScale, ((ScaleCard.PatternHeightMm / 2) - printMm.Y) * cardScale);

    public CameraModel Camera(IReadOnlyList<double> x) => new(x[0], new Vec2(x[1], x[2]), x[3], x[4], x[5], x[6], K3);

    /// <summary>Row-major homography from plane mm to normalised pinhole coordinates: the first two columns of the rotation, and the translation.</summary>
    public double[] Homography(IReadOnlyList<double> x)
    {
        double[] r = Rotation(x);
        return [r[0], r[1], x[PoseAt + 3], r[3], r[4], x[PoseAt + 4], r[6], r[7], x[PoseAt + 5]];
    }

    /// <summary>A card's place in the plane: its middle and the angle of its x axis, radians.</summary>
    public (Vec2 MiddleMm, double Angle) CardPlace(IReadOnlyList<double> x, int card)
    {
        int at = CardsAt + (3 * (card - 1));
        return card == 0 ? (default, 0) : (new Vec2(x[at], x[at + 1]), x[at + 2]);
    }

    /// <summary>The unknowns by what they stand for, in the order in which they count as causes of one another.</summary>
    public (UncertaintyCause Cause, int[] Unknowns)[] Causes()
    {
        int[] stands = [.. _standAt.Where(at => at >= 0).SelectMany(at => new[] { at, at + 1, at + 2 })];
        int[] tilt = [PoseAt, PoseAt + 1, PoseAt + 2];
        return
        [
            (UncertaintyCause.Lens, [.. Enumerable.Range(0, LensPrior.Count)]),
            (UncertaintyCause.CardOff, stands),
            (UncertaintyCause.Tilt, tilt),
            (UncertaintyCause.Scale, [.. Enumerable.Range(LensPrior.Count, Unknowns - LensPrior.Count).Except(stands).Except(tilt)]),
        ];
    }

    public static int CardAt(int card) => CardsAt + (3 * (card - 1));

    public static int TranslationAt => PoseAt + 3;

    /// <summary>Residuals, expected minus measured: x and y of every corner, px.</summary>
    public void Residuals(double[] x, double[] residualsPx)
    {
        CameraModel camera = Camera(x);
        double[] r = Rotation(x);
        for (int i = 0; i < _cornerPx.Length; i++)
        {
            (double px, double py, double pz) = InPlane(x, _cardOf[i], _cornerMm[i], _reliefMm[i]);
            double cx = (r[0] * px) + (r[1] * py) + (r[2] * pz) + x[PoseAt + 3];
            double cy = (r[3] * px) + (r[4] * py) + (r[5] * pz) + x[PoseAt + 4];
            double cz = (r[6] * px) + (r[7] * py) + (r[8] * pz) + x[PoseAt + 5];
            Vec2 px2 = camera.Distort(new Vec2(cx / cz, cy / cz)) - _cornerPx[i];
            residualsPx[2 * i] = px2.X;
            residualsPx[(2 * i) + 1] = px2.Y;
        }
    }

    private double[] Rotation(IReadOnlyList<double> x) =>
        Rotations.Multiply(Rotations.FromVector(x[PoseAt], x[PoseAt + 1], x[PoseAt + 2]), _startRotation);

    private (double X, double Y, double Z) InPlane(double[] x, int card, Vec2 mm, double reliefMm)
    {
        (double px, double py, double pz) = (mm.X, mm.Y, reliefMm);
        int stand = _standAt[card];
        if (stand >= 0)
        {
            double[] lean = Rotations.FromVector(x[stand + 1], x[stand + 2], 0);
            (px, py, pz) = ((lean[0] * mm.X) + (lean[1] * mm.Y), (lean[3] * mm.X) + (lean[4] * mm.Y), (lean[6] * mm.X) + (lean[7] * mm.Y) + x[stand] + reliefMm);
        }

        if (card == 0)
            return (px, py, pz);
        int at = CardsAt + (3 * (card - 1));
        (double sin, double cos) = Math.SinCos(x[at + 2]);
        return (x[at] + (cos * px) - (sin * py), x[at + 1] + (sin * px) + (cos * py), pz);
    }
}
