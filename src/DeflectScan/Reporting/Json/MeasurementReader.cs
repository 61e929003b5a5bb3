using System.Globalization;
using System.Text.Json;
using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Reporting.Json;

/// <summary>Reads what <see cref="MeasurementWriter"/> writes.</summary>
internal static class MeasurementReader
{
    /// <summary>The measurement of a document whose schema has been checked.</summary>
    public static Measurement Read(JsonElement e) => new(
        e.GetProperty("tool").GetProperty("version").GetString()!,
        Section(e, "photo", Photo),
        Choice<MeasurementStatus>(e, "status", MeasurementJson.Spell),
        List(e, "warnings", w => new Finding(
            Choice<FindingCode>(w, "code", Finding.Spell), Choice<Severity>(w, "severity", MeasurementJson.Spell), Text(w, "message"))
        {
            Places = w.TryGetProperty("places", out _) ? List(w, "places", p => new FindingPlace(Number(p, "from_mm"), Number(p, "to_mm"))) : [],
            IsOfSide = w.TryGetProperty("of_side", out JsonElement side) && side.ValueKind == JsonValueKind.True,
        }),
        Section(e, "calibration", Calibration),
        OptionalText(e, "side") is null ? null : Choice<BendSide>(e, "side", MeasurementJson.Spell),
        Section(e, "blank", b => new BlankReport(Number(b, "traced_length_mm"), Number(b, "tip_turn_deg"), List(b, "axis", Axis)) { Reel = Reel(b) }),
        List(e, "guides", Guide),
        Section(e, "line", l => new LineReport(Choice<Source>(l, "source", MeasurementJson.Spell), List(l, "vertices_px", Point))),
        List(e, "intervals", Interval),
        Section(e, "largest", l => new LargestReport(
            Whole(l.GetProperty("gap"), "from"), Whole(l.GetProperty("gap"), "to"), Whole(l.GetProperty("bow"), "from"), Whole(l.GetProperty("bow"), "to"))),
        Section(e, "suggestion", Suggestion))
    {
            Budget = Section(e, "budget", b => new BudgetReport(List(b, "lines", l => new BudgetLine(
                Choice<UncertaintyCause>(l, "cause", MeasurementJson.Spell), Number(l, "gap_mm"), Number(l, "bow_mm"), Number(l, "station_mm"), OptionalText(l, "do"))))),
        Pull = Section(e, "pull", Pull),
        Covariance = Section(e, "covariance", CovarianceJson.Read),
        Running = Section(e, "running", r => new RunningReport(
            Whole(r, "reduction_guides"), Whole(r.GetProperty("follows_worst"), "from"), Whole(r.GetProperty("follows_worst"), "to"), Text(r, "by") == "clearance")),
    };

    private static PhotoInfo Photo(JsonElement p) => new(
        Text(p, "file"),
        Text(p, "sha256"),
        Whole(p, "width_px"),
        Whole(p, "height_px"),
        Whole(p, "exif_orientation"),
        OptionalText(p, "taken_at") is { } at ? Time(at) : null,
        OptionalText(p, "camera_make"),
        OptionalText(p, "camera_model"),
        OptionalText(p, "lens_model"),
        OptionalNumber(p, "focal_length_mm"),
        OptionalNumber(p, "focal_length_35mm_mm"),
        OptionalNumber(p, "digital_zoom"));

    private static CalibrationReport Calibration(JsonElement c) => new(
        List(c, "cards", card => new CardReport(
            Text(card, "letter") is [>= 'A' and <= 'Z' and var letter] ? letter : throw new InputException("A card's letter must be one letter."),
            Whole(card, "corners"),
            Number(card, "rms_px")) { OutlinePx = List(card, "outline_px", Point), TurnDeg = OptionalNumber(card, "turn_deg") }),
        Text(c, "lens"),
        Number(c, "tilt_deg"),
        Number(c, "distance_mm"),
        Number(c, "mm_per_px"),
        Number(c, "scale_uncertainty_percent"));

    private static AxisSample Axis(JsonElement a) => new(
        Number(a, "s_mm"), new Vec2(Number(a, "x_px"), Number(a, "y_px")), new Vec2(Number(a, "x_mm"), Number(a, "y_mm")), Number(a, "diameter_mm"))
    {
        AcrossUncertaintyMm = OptionalNumber(a, "across_uncertainty_mm"),
    };

    private static PullReport Pull(JsonElement p) => new(
        OptionalText(p, "source") is null ? null : Choice<Source>(p, "source", MeasurementJson.Spell),
        OptionalNumber(p, "direction_deg"),
        OptionalNumber(p, "direction_uncertainty_deg"),
        OptionalNumber(p, "plumb_deg"),
        OptionalNumber(p, "load_n"),
        List(p, "cord_px", Point));

    private static GuideReport Guide(JsonElement g) => new(
        Whole(g, "index"),
        Text(g, "kind") == "tip",
        Measured(g, "station"),
        OptionalNumber(g, "from_reel_mm"),
        Point(g.GetProperty("ring_px")),
        Measured(g, "height"),
        OptionalNumber(g, "ring_outer_mm"),
        OptionalNumber(g, "line_angle_deg"),
        Choice<Source>(g, "source", MeasurementJson.Spell))
    {
        FromReelUncertaintyMm = OptionalNumber(g, "from_reel_uncertainty_mm"),
        StationSeenMm = OptionalNumber(g, "station_seen_mm"),
        HeightSeenMm = OptionalNumber(g, "height_seen_mm"),
    };

    private static ReelFrontReport? Reel(JsonElement b) => b.TryGetProperty("reel_front_source", out _)
        ? new ReelFrontReport(
            Choice<ReelFrontSource>(b, "reel_front_source", MeasurementJson.Spell), OptionalNumber(b, "reel_front_mm"), OptionalNumber(b, "reel_front_uncertainty_mm"))
        : null;

    private static IntervalReport Interval(JsonElement i) => new(
        Whole(i, "from"),
        Whole(i, "to"),
        Number(i, "chord_mm"),
        Measured(i, "gap"),
        Number(i, "gap_at_mm"),
        Measured(i, "bow"),
        Number(i, "bow_at_mm"),
        Number(i, "clearance_mm"),
        Number(i, "clearance_at_mm"),
        i.GetProperty("touches_blank").GetBoolean(),
        Choice<Source>(i, "source", MeasurementJson.Spell))
    {
        Seen = i.TryGetProperty("gap_seen_mm", out _) ? new SeenPart(Number(i, "gap_seen_mm"), Number(i, "bow_seen_mm"), Number(i, "clearance_seen_mm")) : null,
    };

    private static SuggestionReport Suggestion(JsonElement s) => new(
        Text(s, "why"),
        OptionalNumber(s, "add_at_mm"),
        List(s, "moves", m => new MoveReport(Whole(m, "guide"), Number(m, "from_mm"), Number(m, "to_mm"))),
        Number(s, "bow_before_mm"),
        Number(s, "bow_after_mm"),
        Number(s, "gap_before_mm"),
        Number(s, "gap_after_mm"),
        List(s, "layout", g => new SuggestedGuide(
            g.GetProperty("guide").ValueKind == JsonValueKind.Null ? null : Whole(g, "guide"),
            Number(g, "station_mm"),
            Number(g, "height_mm"),
            Point(g.GetProperty("ring_px")))));

    private static T? Section<T>(JsonElement e, string name, Func<JsonElement, T> read)
        where T : class =>
        e.TryGetProperty(name, out JsonElement section) && section.ValueKind != JsonValueKind.Null ? read(section) : null;

    private static T[] List<T>(JsonElement e, string name, Func<JsonElement, T> read) => [.. e.GetProperty(name).EnumerateArray().Select(read)];

    private static Vec2 Point(JsonElement e) => e.GetArrayLength() == 2
        ? new Vec2(Finite(e[0]), Finite(e[1]))
        : throw new InputException("A point of the document must be [x, y].");

    private static T Choice<T>(JsonElement e, string name, Func<T, string> spell)
        where T : struct, Enum
    {
        string text = Text(e, name);
        foreach (T value in Enum.GetValues<T>())
        {
            if (spell(value) == text)
                return value;
        }

        throw new InputException($"The document's \"{name}\" has a value that this version does not know.");
    }

    private static string Text(JsonElement e, string name) =>
        e.GetProperty(name).GetString() ?? throw new InputException($"The document's \"{name}\" is missing.");

    private static string? OptionalText(JsonElement e, string name) => e.TryGetProperty(name, out JsonElement v) ? v.GetString() : null;

    private static double Number(JsonElement e, string name) => Finite(e.GetProperty(name));

    private static MeasuredLength Measured(JsonElement e, string name) => new(Number(e, $"{name}_mm"), Number(e, $"{name}_uncertainty_mm"));

    private static double? OptionalNumber(JsonElement e, string name) =>
        e.TryGetProperty(name, out JsonElement v) && v.ValueKind != JsonValueKind.Null ? Finite(v) : null;

    /// <summary>A number that is one: 1e999 reads as infinity.</summary>
    private static double Finite(JsonElement e) =>
        e.TryGetDouble(out double value) && double.IsFinite(value) ? value : throw new InputException("The measurement document is damaged: a figure is out of all bounds.");

    private static int Whole(JsonElement e, string name) =>
        e.GetProperty(name).TryGetInt32(out int value) ? value : throw new InputException($"The document's \"{name}\" must be a whole number.");

    private static DateTime Time(string text) =>
        DateTime.TryParseExact(text, "yyyy-MM-dd'T'HH:mm:ss", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime at)
            ? at
            : throw new InputException("The document's \"taken_at\" is no time.");
}
