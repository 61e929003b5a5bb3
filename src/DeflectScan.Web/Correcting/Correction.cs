using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Web.Correcting;

/// <summary>One thing that a person does to a photo's marks, as the page sends it.</summary>
/// <param name="Do">"move", "add", "remove", "clear", "tip", "butt" or "blank".</param>
/// <param name="Guide">The guide's number, for move, remove and clear.</param>
/// <param name="X">Photo px, where a place is said.</param>
/// <param name="Y">Photo px.</param>
/// <param name="StationMm">The doubtful station that is answered by it, from the tip; null where none is, or where the guide's own says it.</param>
internal sealed record Correction(string Do, int? Guide, double? X, double? Y, double? StationMm)
{
    private const double MaxPx = 100_000;

    /// <summary>What the marks become. Rings that are not touched keep the place where they were measured.</summary>
    /// <param name="shown">The measurement that the person looked at.</param>
    /// <param name="now">The marks that it was made with.</param>
    /// <param name="open">Stations that are still doubtful there, mm from the tip.</param>
    /// <exception cref="InputException">It makes no sense there; one sentence for the user.</exception>
    public MarksState On(Measurement shown, MarksState now, IReadOnlyList<double> open)
    {
        double?[] answered = [StationMm, Guide is { } g && g >= 1 && g <= shown.Guides.Count ? shown.Guides[g - 1].StationMm : null];
        double[] left = [.. open.Where(s => !answered.Any(a => a is { } at && Math.Abs(s - at) <= SameRing.WithinMm))];
        return Do switch
        {
            "move" => Rings(shown, now, left, Guided(shown), Place(), $"{Name(shown)} moved"),
            "add" when Standing(shown, Place()) is { } there => (this with { Do = "move", Guide = there.Index }).On(shown, now, open),
            "add" => Rings(shown, now, left, null, Place(), "A guide added"),
            "remove" => Rings(shown, now, left, Guided(shown), null, $"{Name(shown)} taken off"),
            "clear" => Rings(shown, now, left, null, null, "Said: no guide there"),
            "keep" => Rings(shown, now, left, Guided(shown), shown.Guides[Guided(shown)!.Value - 1].RingPx, $"{Name(shown)} is right"),
            "tip" => now with { Marks = now.Marks with { TipPx = Place() }, OpenMm = left, Says = "The tip placed" },
            "butt" => now with { Marks = now.Marks with { ButtPx = Place() }, OpenMm = left, Says = "The butt placed" },
            "blank" => now with { Marks = now.Marks with { BlankPx = [.. now.Marks.BlankPx, Place()] }, OpenMm = left, Says = "A point of the blank placed" },
            _ => throw new InputException("There is no such correction."),
        };
    }

    /// <summary>The guide whose ring stands where one is said to be: no second one stands so near.</summary>
    private static GuideReport? Standing(Measurement shown, Vec2 place) =>
        shown.Calibration is { } c && shown.Guides.MinBy(g => g.RingPx.DistanceTo(place)) is { } near && near.RingPx.DistanceTo(place) * c.MmPerPx <= SameRing.WithinMm ? near : null;

    private static MarksState Rings(Measurement shown, MarksState now, double[] open, int? touched, Vec2? place, string says)
    {
        if (shown.Guides.Count == 0)
            throw new InputException("No ring was measured in this photo: place the tip or a point of the blank first.");
        List<Vec2> rings = [.. shown.Guides.Select(g => g.RingPx)];
        List<Vec2> placed = [.. now.PlacedPx];
        if (touched is { } number)
        {
            Vec2 was = rings[number - 1];
            placed.RemoveAll(p => shown.Guides.MinBy(g => g.RingPx.DistanceTo(p))!.Index == number);
            rings.Remove(was);
        }

        if (place is { } at)
        {
            rings.Add(at);
            placed.Add(at);
        }

        return new MarksState(now.Marks with { RingsPx = rings, IsComplete = true }, placed, open, says);
    }

    private int? Guided(Measurement shown) => Guide is { } number && number >= 1 && number <= shown.Guides.Count
        ? shown.Guides[number - 1].IsTip && Do == "remove" ? throw new InputException("The tip-top cannot be taken off: move its ring to where it is.") : number
        : throw new InputException("There is no guide of that number on this photo any more: look at the photo again.");

    private string Name(Measurement shown) => shown.Guides[Guided(shown)!.Value - 1].IsTip ? "The tip-top's ring" : $"Guide {Guide}";

    private Vec2 Place() => X is { } x && Y is { } y && double.IsFinite(x) && double.IsFinite(y) && Math.Abs(x) <= MaxPx && Math.Abs(y) <= MaxPx
        ? new Vec2(x, y)
        : throw new InputException("A place on the photo must be given as x and y in px.");
}
