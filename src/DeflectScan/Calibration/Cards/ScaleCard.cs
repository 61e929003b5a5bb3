using DeflectScan.Geometry;

namespace DeflectScan.Calibration.Cards;

/// <summary>
/// The printed scale card: a ChArUco board (OpenCV's open board format) of 5 × 7 squares. Print frame: mm from the pattern's top-left
/// corner, x right, y down, as the card is read. Letters A to E differ by their markers' ids alone.
/// </summary>
public static class ScaleCard
{
    public const int Columns = 5;
    public const int Rows = 7;
    public const double SquareMm = 36;

    /// <summary>Side of a marker with its black border, centred in its white square.</summary>
    public const double MarkerMm = 27;

    /// <summary>Cells along a marker's side: 4 bits and one border cell on either side (dictionary DICT_4X4_100).</summary>
    public const int MarkerCells = 6;

    public const int MarkersPerCard = 17;
    public const int InnerColumns = Columns - 1;
    public const int InnerRows = Rows - 1;
    public const int InnerCorners = InnerColumns * InnerRows;
    public const double PatternWidthMm = Columns * SquareMm;
    public const double PatternHeightMm = Rows * SquareMm;

    /// <summary>The letters there are, in the order of their marker ids.</summary>
    public const string Letters = "ABCDE";

    /// <summary>The pattern's four outer corners in the print frame, from the top-left, clockwise as printed.</summary>
    public static IReadOnlyList<Vec2> PatternOutlineMm { get; } =
        [new(0, 0), new(PatternWidthMm, 0), new(PatternWidthMm, PatternHeightMm), new(0, PatternHeightMm)];

    /// <summary>Column and row of the white squares in the order of their markers: row by row from the top-left.</summary>
    public static IReadOnlyList<(int Column, int Row)> MarkerSquares { get; } =
        [.. from row in Enumerable.Range(0, Rows) from column in Enumerable.Range(0, Columns) where !IsBlack(column, row) select (column, row)];

    /// <summary>Whether a square is black; the top-left one is.</summary>
    public static bool IsBlack(int column, int row) => (column + row) % 2 == 0;

    /// <summary>An inner corner in the print frame.</summary>
    /// <param name="index">0 to 23, row by row from the top-left.</param>
    public static Vec2 InnerCornerMm(int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, InnerCorners);
        return new Vec2((index % InnerColumns) + 1, (index / InnerColumns) + 1) * SquareMm;
    }

    /// <summary>A marker's four corners in the print frame, from its top-left, clockwise as printed.</summary>
    /// <param name="place">0 to 16: the marker's place on the card.</param>
    public static IReadOnlyList<Vec2> MarkerCornersMm(int place)
    {
        (int column, int row) = MarkerSquares[place];
        Vec2 corner = (new Vec2(column, row) * SquareMm) + (new Vec2(1, 1) * ((SquareMm - MarkerMm) / 2));
        return [corner, corner + new Vec2(MarkerMm, 0), corner + new Vec2(MarkerMm, MarkerMm), corner + new Vec2(0, MarkerMm)];
    }

    /// <summary>The id of a letter's marker.</summary>
    /// <exception cref="ArgumentOutOfRangeException">No such letter or place.</exception>
    public static int MarkerId(char letter, int place)
    {
        int k = Letters.IndexOf(letter, StringComparison.Ordinal);
        ArgumentOutOfRangeException.ThrowIfNegative(k, nameof(letter));
        ArgumentOutOfRangeException.ThrowIfNegative(place);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(place, MarkersPerCard);
        return (k * MarkersPerCard) + place;
    }

    /// <summary>Whose marker an id is; null for an id of the dictionary that no card uses.</summary>
    public static (char Letter, int Place)? Locate(int markerId) =>
        markerId >= 0 && markerId < Letters.Length * MarkersPerCard
            ? (Letters[markerId / MarkersPerCard], markerId % MarkersPerCard)
            : null;
}
