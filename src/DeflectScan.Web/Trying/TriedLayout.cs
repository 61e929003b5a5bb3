using System.Globalization;
using DeflectScan.Desk;
using DeflectScan.Findings;

namespace DeflectScan.Web.Trying;

/// <summary>
/// A tried layout as an address carries it: the changes of the measured one, "5@402.3" a guide moved to a station in mm from the tip, "a512" one more there,
/// "x6" a guide taken off; a comma between. Guides have their measured numbers.
/// </summary>
internal static class TriedLayout
{
    private const int MostChanges = 60;

    /// <exception cref="InputException">It is none; one sentence for the user.</exception>
    public static IReadOnlyList<GuideChange> Read(string? text)
    {
        string[] parts = (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries);
        return parts.Length <= MostChanges ? [.. parts.Select(One)] : throw new InputException($"A layout can differ from the measured one in {MostChanges} guides at most.");
    }

    public static string Write(IEnumerable<GuideChange> changes) => string.Join(',', changes.Select(c => c switch
    {
        MoveTo m => $"{m.Guide}@{Number(m.StationMm)}",
        AddAt a => $"a{Number(a.StationMm)}",
        TakeOff t => $"x{t.Guide}",
        _ => throw new ArgumentException("An unknown change.", nameof(changes)),
    }));

    private static GuideChange One(string part)
    {
        int at = part.IndexOf('@', StringComparison.Ordinal);
        return at > 0 && Guide(part[..at]) is { } moved && Station(part[(at + 1)..]) is { } to ? new MoveTo(moved, to)
            : part[0] == 'a' && Station(part[1..]) is { } added ? new AddAt(added)
            : part[0] == 'x' && Guide(part[1..]) is { } off ? new TakeOff(off)
            : throw new InputException("This address holds no layout: go back to the photo and try one from there.");
    }

    private static int? Guide(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int guide) && guide is > 0 and < 100 ? guide : null;

    private static double? Station(string text) =>
        double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double mm) && mm is >= 0 and < 20_000 ? mm : null;

    private static string Number(double mm) => mm.ToString("0.####", CultureInfo.InvariantCulture);
}
