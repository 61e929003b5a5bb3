namespace DeflectScan.Tracing.Reading;

/// <summary>What the network says of a strip: log-odds by cell of <see cref="CellColumns"/> by <see cref="CellRows"/> px, and where in or beside a cell.</summary>
/// <param name="Frame">Where the strip's pixels lie.</param>
/// <param name="Ring">Log-odds of a guide's ring contact.</param>
/// <param name="Tip">Log-odds of the tip-top's ring contact.</param>
/// <param name="Bare">Log-odds of the middle of something short on the blank that holds no guide.</param>
/// <param name="Hidden">Log-odds that something in front hides the blank.</param>
/// <param name="Body">Log-odds of the blank's own body, where it is seen, by cell of <see cref="CellColumns"/> by <see cref="BodyRows"/> px.</param>
/// <param name="AlongCells">From a cell's middle to the contact, cells towards the tip.</param>
/// <param name="AcrossCells">The same towards the inside of the bend.</param>
/// <param name="InsideLogOdds">Log-odds that the guides stand on the inside of the bend.</param>
internal sealed record StripReading(
    StripFrame Frame, ReadingMap Ring, ReadingMap Tip, ReadingMap Bare, ReadingMap Hidden, ReadingMap Body, ReadingMap AlongCells, ReadingMap AcrossCells,
    double InsideLogOdds)
{
    /// <summary>Whether it is the mean of several looks (<see cref="SecondLook"/>), whose log-odds mean something else than one's.</summary>
    public bool IsSecond { get; init; }

    /// <summary>Width of a cell, px of the strip.</summary>
    public const int CellColumns = 4;

    /// <summary>Height of a cell, px of the strip.</summary>
    public const int CellRows = 4;

    /// <summary>Height of a cell of <see cref="Body"/>, px of the strip.</summary>
    public const int BodyRows = 2;
}
