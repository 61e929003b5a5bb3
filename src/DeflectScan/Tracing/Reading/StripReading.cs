namespace DeflectScan.Tracing.Reading;

/// <summary>One channel of what the network says of a strip, cell by cell.</summary>
/// <param name="Values">Row after row.</param>
/// <param name="Rows">Number of rows.</param>
/// <param name="Columns">Number of columns.</param>
internal sealed record ReadingMap(float[] Values, int Rows, int Columns)
{
    public float this[int row, int column] => Values[(row * Columns) + column];
}

/// <summary>What the network says of a strip: log-odds by cell of <see cref="CellColumns"/> by <see cref="CellRows"/> px, and where in or beside a cell.</summary>
/// <param name="Frame">Where the strip's pixels lie.</param>
/// <param name="Ring">Log-odds of a guide's ring contact.</param>
/// <param name="Tip">Log-odds of the tip-top's ring contact.</param>
/// <param name="AlongCells">From a cell's middle to the contact, cells towards the tip.</param>
/// <param name="AcrossCells">The same towards the inside of the bend.</param>
/// <param name="InsideLogOdds">Log-odds that the guides stand on the inside of the bend.</param>
internal sealed record StripReading(StripFrame Frame, ReadingMap Ring, ReadingMap Tip, ReadingMap AlongCells, ReadingMap AcrossCells, double InsideLogOdds)
{
    /// <summary>Width of a cell, px of the strip.</summary>
    public const int CellColumns = 4;

    /// <summary>Height of a cell, px of the strip.</summary>
    public const int CellRows = 4;
}
