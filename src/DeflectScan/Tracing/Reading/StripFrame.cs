using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Reading;

/// <summary>
/// Where a strip's pixels lie beside the blank: columns of 1 mm along the axis from the reel (left) to beyond the tip (right), rows of 0.5 mm across
/// it, the inside of the bend downwards. The network was trained on strips of just this form.
/// </summary>
/// <param name="StartStation">Station (mm from the axis' end at the tip) of the strip's left border.</param>
/// <param name="Columns">Width, px; a multiple of <see cref="WidthStep"/>.</param>
/// <param name="InsideSign">+1 where the axis' normal points to the inside of the bend, else -1.</param>
internal sealed record StripFrame(double StartStation, int Columns, double InsideSign)
{
    /// <summary>Height of a strip, px.</summary>
    public const int Rows = 256;

    /// <summary>Length of a column, mm.</summary>
    public const double ColumnMm = 1;

    /// <summary>Height of a row, mm.</summary>
    public const double RowMm = 0.5;

    /// <summary>How far a strip reaches to the outside of the bend, mm.</summary>
    public const double OutsideMm = 40;

    /// <summary>How far it goes on beyond the axis' end, straight on, mm.</summary>
    public const double BeyondTipMm = 40;

    /// <summary>How far it reaches back into the handle, straight on, so that the reel is in it, mm.</summary>
    public const double HandleMm = 240;

    /// <summary>The network halves its width four times.</summary>
    public const int WidthStep = 16;

    /// <summary>The frame of a traced blank, from the reel to beyond its tip.</summary>
    public static StripFrame Of(BlankAxis axis)
    {
        double start = Math.Min(axis.HandleStationMm, axis.Curve.Length) + HandleMm;
        int columns = (int)Math.Ceiling((start + BeyondTipMm) / ColumnMm);
        return new StripFrame(start, (columns + WidthStep - 1) / WidthStep * WidthStep, Math.Sign(Turn(axis)));
    }

    /// <summary>Station of a (fractional) column's middle, mm from the axis' end, negative beyond it.</summary>
    public double Station(double column) => StartStation - ((column + 0.5) * ColumnMm);

    /// <summary>Height of a (fractional) row's middle above the axis, mm, positive to the inside of the bend.</summary>
    public static double Height(double row) => ((row + 0.5) * RowMm) - OutsideMm;

    /// <summary>The column whose middle lies at a station.</summary>
    public double ColumnOf(double station) => ((StartStation - station) / ColumnMm) - 0.5;

    /// <summary>The row whose middle lies at a height.</summary>
    public static double RowOf(double heightMm) => ((heightMm + OutsideMm) / RowMm) - 0.5;

    // Positive where the axis turns towards its normal. By the way as a whole: a tangent at either end may be off by more than the bend.
    private static double Turn(BlankAxis axis)
    {
        Vec2 middle = axis.Curve.Point(axis.Curve.Length / 2);
        return (middle - axis.Curve.Point(0)).Cross(axis.Curve.Point(axis.Curve.Length) - middle);
    }
}
