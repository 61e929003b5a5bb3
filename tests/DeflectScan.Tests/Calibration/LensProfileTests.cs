using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Tests.Calibration;

public class LensProfileTests
{
    [Fact]
    public void AProfileComesBackFromItsFileAsItWas()
    {
        LensProfile profile = Of(new SyntheticCards(1).Camera);
        LensProfile back = LensProfile.Read(profile.Write());
        Assert.Equal(profile.Write(), back.Write());
        Assert.Contains("\"focal_px\"", profile.Write(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("{}")]
    [InlineData("[1, 2]")]
    [InlineData("{\"name\": \"x\", \"identity\": {}, \"width_px\": 4000, \"height_px\": 3000, \"focal_px\": -1, \"distortion\": [0,0,0,0,0], \"covariance\": []}")]
    public void WhatIsNoProfileIsSaidToBeNone(string json) => Assert.Throws<InvalidDataException>(() => LensProfile.Read(json));

    [Fact]
    public void ACovarianceThatIsNoneIsTurnedAway()
    {
        LensProfile profile = Of(new SyntheticCards(1).Camera);
        double[][] rows = [.. profile.Covariance.Select(r => r.ToArray())];
        rows[0][1] = rows[1][0] = 2 * Math.Sqrt(rows[0][0] * rows[1][1]); // a correlation of 2
        Assert.Throws<InvalidDataException>(() => LensProfile.Read((profile with { Covariance = rows }).Write()));
    }

    /// <summary>A known lens makes one card several times surer far away from it, and the smaller uncertainty holds.</summary>
    [Fact]
    public void AKnownLensMendsASingleCard()
    {
        double squares = 0;
        double share = 0;
        const int photos = 40;
        for (int seed = 0; seed < photos; seed++)
        {
            SyntheticCards scene = new(seed);
            CardSighting[] seen = scene.See(SyntheticCards.Two[..1], 0.08);
            Outcome<PlaneSolution> known = PlaneSolver.Solve(seen, scene.Info, new CalibrationOptions { Lens = Of(scene.Camera) });
            Assert.Equal("test lens", known.Value!.Lens);
            (Vec2 a, Vec2 b) = (scene.Plane.ToPhoto(new(450, 250)), scene.Plane.ToPhoto(new(650, 250)));
            double u = PlaneSolverTests.Uncertainty(known.Value.Plane, a, b);
            squares += Math.Pow((PlaneSolverTests.Length(known.Value.Plane, a, b) - 200) / u, 2) / photos;
            share += u / PlaneSolverTests.Uncertainty(PlaneSolver.Solve(seen, scene.Info).Value!.Plane, a, b) / photos;
        }

        Assert.True(share < 0.6, $"{share:0.00} of the uncertainty without a profile");
        Assert.InRange(Math.Sqrt(squares), 0.5, 1.3);
    }

    /// <summary>The same photo held upright (EXIF orientation 6 or 8, turned when opened) is measured the same with the sensor's profile.</summary>
    [Theory]
    [InlineData(6)]
    [InlineData(8)]
    public void AProfileTurnsWithThePhoto(int orientation)
    {
        SyntheticCards scene = new(11);
        CardSighting[] seen = scene.See(SyntheticCards.Two, 0.05);
        CalibrationOptions options = new() { Lens = Of(scene.Camera) };
        CardSighting[] turned = [.. seen.Select(c => c with { Corners = [.. c.Corners.Select(k => k with { Px = Turn(k.Px) })] })];
        PhotoInfo upright = scene.Info with { WidthPx = SyntheticCards.HeightPx, HeightPx = SyntheticCards.WidthPx, ExifOrientation = orientation };
        RodPlane flat = PlaneSolver.Solve(seen, scene.Info, options).Value!.Plane;
        RodPlane stood = PlaneSolver.Solve(turned, upright, options).Value!.Plane;
        (Vec2 a, Vec2 b) = (new(700, 600), new(3500, 2600));
        Assert.Equal(PlaneSolverTests.Length(flat, a, b), PlaneSolverTests.Length(stood, Turn(a), Turn(b)), 2e-3);

        Vec2 Turn(Vec2 px) => orientation == 6
            ? new Vec2(SyntheticCards.HeightPx - 1 - px.Y, px.X)
            : new Vec2(px.Y, SyntheticCards.WidthPx - 1 - px.X);
    }

    [Fact]
    public void AProfileOfAnotherLensIsNoticed()
    {
        SyntheticCards scene = new(12);
        LensProfile other = Of(scene.Camera with { FocalPx = scene.Camera.FocalPx * 1.3 });
        Outcome<PlaneSolution> outcome = PlaneSolver.Solve(scene.See(SyntheticCards.Three, 0.05), scene.Info, new CalibrationOptions { Lens = other });
        Assert.Contains(outcome.Findings, f => f.Code is FindingCode.LensUnknown or FindingCode.CardsDisagree or FindingCode.CardOffPlane);
    }

    /// <summary>A lens that bends far more than a phone's (k1 about -0.2) is noticed by three cards, and the lengths hold within what is then stated.</summary>
    [Fact]
    public void AStronglyBendingLensIsNoticedAndAllowedFor()
    {
        int inside = 0;
        const int photos = 20;
        for (int seed = 0; seed < photos; seed++)
        {
            SyntheticCards scene = new(seed, moreK1: -0.2);
            Outcome<PlaneSolution> outcome = PlaneSolver.Solve(scene.See(SyntheticCards.Three, 0.06), scene.Info);
            Assert.NotEmpty(outcome.Findings);
            (Vec2 aMm, Vec2 bMm) = (new(-300, 0), new(600, 250));
            (Vec2 a, Vec2 b) = (scene.Plane.ToPhoto(aMm), scene.Plane.ToPhoto(bMm));
            double off = PlaneSolverTests.Length(outcome.Value!.Plane, a, b) - aMm.DistanceTo(bMm);
            bool doubted = outcome.Findings.Any(f => f.Severity == Severity.Review);
            inside += doubted || Math.Abs(off) < 1.96 * PlaneSolverTests.Uncertainty(outcome.Value.Plane, a, b) ? 1 : 0;
        }

        Assert.True(inside >= 0.9 * photos, $"{inside} of {photos}");
    }

    private static LensProfile Of(CameraModel camera)
    {
        double[] sd = [2, 2, 2, 0.001, 0.003, 0.0001, 0.0001];
        return new LensProfile(
            "test lens", new LensIdentity(null, null, null, null, null), SyntheticCards.WidthPx, SyntheticCards.HeightPx,
            camera.FocalPx, camera.PrincipalPx.X, camera.PrincipalPx.Y, [camera.K1, camera.K2, camera.P1, camera.P2, camera.K3],
            [.. Enumerable.Range(0, 7).Select(i => (IReadOnlyList<double>)[.. Enumerable.Range(0, 7).Select(j => i == j ? sd[i] * sd[i] : 0)])], 0.2);
    }
}
