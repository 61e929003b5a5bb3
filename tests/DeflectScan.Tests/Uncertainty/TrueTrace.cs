using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Measuring;
using DeflectScan.Measuring.Figures;
using DeflectScan.Scenes;
using DeflectScan.Tests.Calibration;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Uncertainty;

/// <summary>The true rod of a test photo in the plane that its cards give: the chain from plane to figures without its tracing.</summary>
internal sealed class TrueTrace
{
    public TrueTrace(string name, CalibrationOptions? options = null)
    {
        Truth = Repository.Truth(name);
        using UprightPhotoOf photo = new(name);
        Cards = CardFinder.Find(photo.Photo);
        Info = photo.Photo.Info;
        Solution = PlaneSolver.Solve(Cards, Info, options).Value!;
        RodPlane exact = Truth.RodPlane();
        Vec2 Carry(Vec2 p) => Solution.Plane.ToPlane(exact.ToPhoto(p));
        BlankAxis axis = TruthMeasurement.Axis(Truth);
        axis = axis with { Curve = ArcCurve.Through([.. axis.Curve.Knots.Select(Carry)]) };
        Vec2[] contacts = [.. Truth.Guides.Select(g => Solution.Plane.ToPlane(new Vec2(g.ContactPx[0], g.ContactPx[1])))];
        Trace = PlaneTrace.AtTip(axis, contacts);
        Figures = LayoutFigures.Of(Trace, GuideSide.Inside);
        Rings = [.. contacts.Select((c, i) => new RingSighting(c, 0.3, 0.1, null, i == contacts.Length - 1, Source.Traced))];
        Uncertainty = LayoutUncertainty.Of(Trace, Figures, Rings, Solution.Plane, GuideSide.Inside);
    }

    public Truth Truth { get; }

    public IReadOnlyList<CardSighting> Cards { get; }

    public DeflectScan.Photos.PhotoInfo Info { get; }

    public PlaneSolution Solution { get; }

    public PlaneTrace Trace { get; }

    public LayoutFigures Figures { get; }

    public IReadOnlyList<RingSighting> Rings { get; }

    public LineTrace Line => new(BendSide.Inside, Rings, [.. Enumerable.Repeat(Source.Traced, Rings.Count - 1)], null, null);

    public LayoutUncertainty Uncertainty { get; }

    /// <summary>True distance along the blank between two rings, counted from 1 at the reel.</summary>
    public double Between(int from, int to) => Truth.Guides[from - 1].FromTipMm - Truth.Guides[to - 1].FromTipMm;

    private sealed class UprightPhotoOf(string name) : IDisposable
    {
        public DeflectScan.Photos.UprightPhoto Photo { get; } = TestPhoto.Open(name);

        public void Dispose() => Photo.Dispose();
    }
}
