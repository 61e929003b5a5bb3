using System.Globalization;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout.Start;

namespace DeflectScan.Web.Starting;

/// <summary>
/// The form of a start layout as an address carries it: lengths as they are typed ("6ft 6in", "1980mm"), strengths "5kg" or "10lb"; what is left out is the
/// command line's usual value. A number without a unit is in the page's own.
/// </summary>
internal static class StartForm
{
    private const double KilogramsAPound = 0.45359237;
    private const double MostKg = 500;

    /// <param name="field">A field's text; empty where it is left out.</param>
    /// <param name="bare">Unit of a number without one.</param>
    /// <exception cref="InputException">A field that cannot be used; one sentence for the user.</exception>
    public static StartInput Read(Func<string, string> field, LengthUnit bare)
    {
        RodKind kind = field("rod") == "casting" ? RodKind.Casting : RodKind.Spinning;
        StartInput usual = new()
        {
            Kind = kind,
            RodLengthMm = Length("length", "The rod's length") ?? throw new InputException("Say how long the rod is, as in 6ft 6in or 1980mm."),
            ReelFrontFromButtMm = Length("reelAt", "The reel's place") ?? throw new InputException("Say how far the reel's front is from the butt end, as in 300mm."),
        };
        if (usual.RodLengthMm is < 300 or > 10_000)
            throw new InputException("The rod's length must be from 300 to 10000 mm.");
        double? leader = Strength("leader", "The leader's strength");
        return usual with
        {
            ReelClass = Class(field("reel"), kind),
            RunningByBow = field("running") == "bow",
            SpoolLipMm = Length("lip", "The spool's lip"),
            SpoolAxisHeightMm = Length("height", "The spool's height"),
            Line = field("line") == "mono" ? LineKind.Monofilament : LineKind.Braid,
            LineStrengthKg = Strength("strength", "The line's strength") ?? usual.LineStrengthKg,
            LeaderStrengthKg = leader is { } kg ? (kg == 0 ? null : kg) : usual.LeaderStrengthKg,
        };

        double? Length(string name, string says) => field(name).Trim() is not { Length: > 0 } text ? null
            : LengthText.TryMm(text, bare, out double mm) && mm >= 0 ? mm
            : throw new InputException($"{says} is no length as it stands: write it as in 402mm, 15 13/16in or 6ft 6in.");

        double? Strength(string name, string says) => field(name).Trim() is not { Length: > 0 } text ? null
            : Kilograms(text) ?? throw new InputException($"{says} is none as it stands: write it as in 5kg or 10lb.");
    }

    private static int Class(string text, RodKind kind) => text.Length == 0 ? GuidePractice.ReelClasses(kind).Usual
        : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int reel) && reel >= GuidePractice.ReelClasses(kind).Least && reel <= GuidePractice.ReelClasses(kind).Largest ? reel
        : throw new InputException($"The reel class must be from {GuidePractice.ReelClasses(kind).Least} to {GuidePractice.ReelClasses(kind).Largest}.");

    private static double? Kilograms(string text)
    {
        string small = text.ToLowerInvariant();
        bool pounds = small.EndsWith("lb", StringComparison.Ordinal);
        string number = pounds || small.EndsWith("kg", StringComparison.Ordinal) ? small[..^2] : small;
        return double.TryParse(number.TrimEnd(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) && value <= MostKg
            ? pounds ? value * KilogramsAPound : value
            : null;
    }
}
