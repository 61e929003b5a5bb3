using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Records.Model;
using DeflectScan.Reporting;
using OpenCvSharp;

namespace DeflectScan.Records.Comparing;

/// <summary>
/// Both photos with their overlays in register: the later photo is brought into the earlier one's frame by the rod plane that both share, so that
/// the blanks lie on each other and a person can flip between the two.
/// </summary>
public static class InRegister
{
    /// <summary>Draws both overlays as PNG files of the same size.</summary>
    /// <param name="comparison">The two measurements.</param>
    /// <param name="beforePhoto">The earlier photo.</param>
    /// <param name="afterPhoto">The later photo.</param>
    public static (byte[] Before, byte[] After) Draw(Comparison comparison, UprightPhoto beforePhoto, UprightPhoto afterPhoto)
    {
        Func<Vec2, Vec2> place = comparison.Shape.AfterOnBefore;
        using Mat before = PxFromMm(comparison.Before, p => p);
        using Mat after = PxFromMm(comparison.After, place);
        using Mat back = new();
        if (Cv2.Invert(after, back) == 0)
            throw new ArchiveException(ArchiveProblem.Refused, "The later photo cannot be laid on the earlier one: its rod lies in one line.");
        using Mat warp = new();
        Cv2.Gemm(before, back, 1, new Mat(), 0, warp);
        using Mat warped = new();
        Cv2.WarpPerspective(afterPhoto.Bgr, warped, warp, beforePhoto.Bgr.Size(), InterpolationFlags.Area, BorderTypes.Constant, new Scalar(43, 33, 23));
        Mat w = warp;
        using UprightPhoto laid = new(afterPhoto.Info, warped.Clone());
        OverlayOptions options = new();

        // Without what stands above and below the photo of only one of them: suggestion and warnings are in the reports.
        return (
            Overlay.Draw(beforePhoto, Bare(comparison.Before, p => p), options),
            Overlay.Draw(laid, Bare(comparison.After, p => Apply(w, p)), options));
    }

    /// <summary>The homography from the earlier rod plane's mm to a photo's px, fitted to the axis and the ring points: at the rod, where it is looked at, lens distortion hardly matters.</summary>
    private static Mat PxFromMm(Measurement m, Func<Vec2, Vec2> place)
    {
        List<Vec2> mm = [.. m.Blank!.Axis.Select(a => place(a.Mm)), .. MeasuredRod.Of(m).RingsMm.Select(place)];
        List<Vec2> px = [.. m.Blank.Axis.Select(a => a.Px), .. m.Guides.Select(g => g.RingPx)];
        Mat fitted = Cv2.FindHomography(mm.Select(p => new Point2d(p.X, p.Y)), px.Select(p => new Point2d(p.X, p.Y)));
        return fitted.Empty() ? throw new ArchiveException(ArchiveProblem.Refused, "The photos cannot be laid on each other: too little of the rod was measured.") : fitted;
    }

    private static Measurement Bare(Measurement m, Func<Vec2, Vec2> px) => m with
    {
        Findings = [],
        Suggestion = null,
        Calibration = m.Calibration is { } c ? c with { Cards = [.. c.Cards.Select(k => k with { OutlinePx = [.. k.OutlinePx.Select(px)] })] } : null,
        Blank = m.Blank! with { Axis = [.. m.Blank.Axis.Select(a => a with { Px = px(a.Px) })] },
        Guides = [.. m.Guides.Select(g => g with { RingPx = px(g.RingPx) })],
        Line = m.Line is { } line ? line with { VerticesPx = [.. line.VerticesPx.Select(px)] } : null,
    };

    private static Vec2 Apply(Mat h, Vec2 p)
    {
        double At(int row) => (h.At<double>(row, 0) * p.X) + (h.At<double>(row, 1) * p.Y) + h.At<double>(row, 2);
        return new Vec2(At(0) / At(2), At(1) / At(2));
    }
}
