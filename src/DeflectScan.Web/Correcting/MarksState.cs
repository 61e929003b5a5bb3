using DeflectScan.Geometry;

namespace DeflectScan.Web.Correcting;

/// <summary>What a person has said of a photo so far.</summary>
/// <param name="Marks">As the library takes them.</param>
/// <param name="PlacedPx">Ring points that the person touched, as placed; the others in the marks are as they were read.</param>
/// <param name="OpenMm">Stations that were put up as doubtful and have not been answered: the photo is not measured soundly until they are.</param>
/// <param name="Says">What the last step did: "Guide 4 moved".</param>
internal sealed record MarksState(Marks Marks, IReadOnlyList<Vec2> PlacedPx, IReadOnlyList<double> OpenMm, string Says)
{
    public static MarksState None { get; } = new(Marks.None, [], [], "");
}
