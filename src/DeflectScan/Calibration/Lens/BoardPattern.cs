using System.Globalization;
using DeflectScan.Geometry;

namespace DeflectScan.Calibration.Lens;

/// <summary>A printed chessboard, by its inner corners as OpenCV counts them.</summary>
/// <param name="Columns">Inner corners in a row (3 to 60).</param>
/// <param name="Rows">Rows of inner corners (3 to 60).</param>
/// <param name="SquareMm">Side of a square. It scales the boards' distances; the lens itself does not depend on it.</param>
public sealed record BoardPattern(int Columns, int Rows, double SquareMm)
{
    public int Corners => Columns * Rows;

    /// <summary>Inner corners in mm, row by row, x right, y down.</summary>
    public IReadOnlyList<Vec2> PointsMm => [.. Enumerable.Range(0, Corners).Select(i => new Vec2(i % Columns, i / Columns) * SquareMm)];

    /// <summary>Reads "9x6".</summary>
    /// <returns>The pattern, or null where the text is no such pair of numbers from 3 to 60.</returns>
    public static BoardPattern? Parse(string text, double squareMm)
    {
        string[] parts = text.Split('x', 'X', '×');
        return parts.Length == 2 && Count(parts[0]) is { } columns && Count(parts[1]) is { } rows ? new BoardPattern(columns, rows, squareMm) : null;

        static int? Count(string part) =>
            int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n is >= 3 and <= 60 ? n : null;
    }
}

/// <summary>One flat board as one photo shows it, in the frame of the camera's sensor.</summary>
/// <param name="Photo">Which photo, by file name.</param>
/// <param name="BoardMm">Its corners on the board.</param>
/// <param name="SensorPx">The same in px of the picture as the sensor stored it (landscape).</param>
public sealed record BoardView(string Photo, IReadOnlyList<Vec2> BoardMm, IReadOnlyList<Vec2> SensorPx);
