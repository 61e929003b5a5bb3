using System.Globalization;
using DeflectScan.Records.Schema;

namespace DeflectScan.Records.Model;

/// <summary>What the model's values are as rows, and back.</summary>
internal static class RowsOf
{
    private const string TimeFormat = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    public static string Time(DateTimeOffset at) => Time(at.UtcDateTime);

    /// <param name="utc">UTC.</param>
    public static string Time(DateTime utc) => utc.ToString(TimeFormat, CultureInfo.InvariantCulture);

    public static DateTime Time(string text) =>
        DateTime.ParseExact(text, TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal);

    public static IEnumerable<Row> Revision(string id, string buildId, string at, BuildFacts f) =>
    [
        new(
            Tables.Revisions,
            id, buildId, at, f.Name, f.Owner, f.Blank, f.BlankLengthMm, f.Pieces, f.SpineMark, f.Handle, f.ReelClass, f.Line, SideText.Of(f.Side), f.Use, f.Remarks),
        .. f.Guides.Select((g, i) => new Row(Tables.Guides, id, i + 1, g.Frame, g.RingSizeMm, g.FromTipMm, g.FromReelMm)),
    ];

    public static BuildFacts Facts(Row r, IEnumerable<Row> guides) => new()
    {
        Name = r.Text("name"),
        Owner = r.OptionalText("owner"),
        Blank = r.OptionalText("blank"),
        BlankLengthMm = r.OptionalReal("blank_length_mm"),
        Pieces = r.OptionalWhole("pieces"),
        SpineMark = r.OptionalText("spine_mark"),
        Handle = r.OptionalText("handle"),
        ReelClass = r.OptionalWhole("reel_class"),
        Line = r.OptionalText("line"),
        Side = SideText.Read(r.OptionalText("side")),
        Use = r.OptionalText("rod_use"),
        Remarks = r.OptionalText("remarks"),
        Guides = [.. guides.OrderBy(g => g.Whole("position")).Select(g => new GuideEntry(
            g.OptionalText("frame"), g.OptionalReal("ring_size_mm"), g.Real("from_tip_mm"), g.OptionalReal("from_reel_mm")))],
    };

    public static Row Of(StoredMeasurement m) => new(
        Tables.Measurements,
        m.Id, m.BuildId, m.PhotoSha256, m.LensSha256, m.DocumentSha256, Time(m.MadeAt), m.ProgramVersion, m.Settings, m.Label,
        m.Status == MeasurementStatus.Ok ? "ok" : "needs_review", m.Side, m.TracedLengthMm, m.TipTurnDeg, m.GuideCount,
        m.LargestGapMm, m.LargestGapUncertaintyMm, m.LargestBowMm, m.LargestBowUncertaintyMm);

    public static StoredMeasurement Measurement(Row r) => new()
    {
        Id = r.Text("id"),
        BuildId = r.Text("build_id"),
        PhotoSha256 = r.Text("photo_sha256"),
        LensSha256 = r.OptionalText("lens_sha256"),
        DocumentSha256 = r.Text("document_sha256"),
        MadeAt = Time(r.Text("made_at")),
        ProgramVersion = r.Text("program_version"),
        Settings = r.Text("settings"),
        Label = r.OptionalText("label"),
        Status = r.Text("status") == "ok" ? MeasurementStatus.Ok : MeasurementStatus.NeedsReview,
        Side = r.OptionalText("side"),
        TracedLengthMm = r.Real("traced_length_mm"),
        TipTurnDeg = r.Real("tip_turn_deg"),
        GuideCount = r.Whole("guide_count"),
        LargestGapMm = r.OptionalReal("largest_gap_mm"),
        LargestGapUncertaintyMm = r.OptionalReal("largest_gap_uncertainty_mm"),
        LargestBowMm = r.OptionalReal("largest_bow_mm"),
        LargestBowUncertaintyMm = r.OptionalReal("largest_bow_uncertainty_mm"),
    };

    public static IEnumerable<Row> Layout(string id, string buildId, string at, string name, string basis, IReadOnlyList<LayoutStation> stations) =>
    [
        new(Tables.Layouts, id, buildId, at, name, basis),
        .. stations.Select((s, i) => new Row(Tables.LayoutGuides, id, i + 1, s.FromTipMm, s.FromReelMm, s.RingSizeMm, s.HeightMm)),
    ];

    public static ConsideredLayout Layout(Row r, IEnumerable<Row> stations) => new(
        r.Text("id"),
        Time(r.Text("at")),
        r.Text("name"),
        r.Text("basis"),
        [.. stations.OrderBy(s => s.Whole("position")).Select(s => new LayoutStation(
            s.Real("from_tip_mm"), s.OptionalReal("from_reel_mm"), s.OptionalReal("ring_size_mm"), s.OptionalReal("height_mm")))]);

    public static string Kind(NoteKind kind) => kind switch { NoteKind.TestCast => "test-cast", NoteKind.Remark => "remark", _ => "note" };

    public static NoteKind Kind(string kind) => kind switch { "test-cast" => NoteKind.TestCast, "remark" => NoteKind.Remark, _ => NoteKind.Note };

    public static BuildNote Note(Row r) => new(r.Text("id"), Time(r.Text("at")), Kind(r.Text("kind")), r.Text("text"));
}
