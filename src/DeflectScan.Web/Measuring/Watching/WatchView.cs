namespace DeflectScan.Web.Measuring;

/// <summary>A file of the watched folder that was not taken in.</summary>
/// <param name="Name">Its cleaned name.</param>
/// <param name="Reason">One sentence.</param>
internal sealed record WatchedRefusal(string Name, string Reason);

/// <summary>What the page is told of the watched folder.</summary>
/// <param name="Folder">Where it is; null where none is watched.</param>
/// <param name="Problem">Why it cannot be read, one sentence; null where it can.</param>
/// <param name="Refused">What was not taken in. Photos that were, and then refused by the measurement, stand with the others.</param>
internal sealed record WatchView(string? Folder, string? Problem, IReadOnlyList<WatchedRefusal> Refused)
{
    public static WatchView Nothing { get; } = new(null, null, []);

    public bool SaysAsMuchAs(WatchView other) => Folder == other.Folder && Problem == other.Problem && Refused.SequenceEqual(other.Refused);
}
