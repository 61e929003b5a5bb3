using System.Globalization;
using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Reporting.Json;

/// <summary>Writes the document member by member, in the contract's order. An axis sample and a list of points take one line each.</summary>
internal sealed class MeasurementWriter(Utf8JsonWriter json)
{
    public void Write(Measurement m)
    {
        json.WriteStartObject();
        json.WriteString("schema", MeasurementJson.Schema);
        json.WriteStartObject("tool");
        json.WriteString("name", "deflectscan");
        json.WriteString("version", m.ToolVersion);
        json.WriteEndObject();
        Section("photo", m.Photo, Photo);
        json.WriteString("status", MeasurementJson.Spell(m.Status));
        List("warnings", m.Findings, Warning);
        Section("calibration", m.Calibration, Calibration);
        json.WriteString("side", m.Side is { } side ? MeasurementJson.Spell(side) : null);
        Section("blank", m.Blank, Blank);
        List("guides", m.Guides, Guide);
        Section("line", m.Line, Line);
        List("intervals", m.Intervals, Interval);
        Section("largest", m.Largest, Largest);
        if (m.Running is not null)
            Section("running", m.Running, Running);
        Section("suggestion", m.Suggestion, Suggestion);
        Section("pull", m.Pull, Pull);
        Section("budget", m.Budget, Budget);
        if (m.Covariance is not null)
            CovarianceJson.Write(json, m.Covariance);
        json.WriteEndObject();
    }

    private void Photo(PhotoInfo p)
    {
        json.WriteString("file", p.FileName);
        json.WriteString("sha256", p.Sha256);
        json.WriteNumber("width_px", p.WidthPx);
        json.WriteNumber("height_px", p.HeightPx);
        json.WriteString("taken_at", p.TakenAt?.ToString("yyyy-MM-dd'T'HH:mm:ss", CultureInfo.InvariantCulture));
        json.WriteNumber("exif_orientation", p.ExifOrientation);
        json.WriteString("camera_make", p.CameraMake);
        json.WriteString("camera_model", p.CameraModel);
        json.WriteString("lens_model", p.LensModel);
        Length("focal_length_mm", p.FocalLengthMm);
        Length("focal_length_35mm_mm", p.FocalLength35Mm);
        Length("digital_zoom", p.DigitalZoom);
    }

    private void Warning(Finding f)
    {
        json.WriteString("code", f.CodeText);
        json.WriteString("severity", MeasurementJson.Spell(f.Severity));
        json.WriteString("message", f.Message);
        if (f.IsOfSide)
            json.WriteBoolean("of_side", true);
        if (f.Places.Count > 0)
        {
            List("places", f.Places, p =>
            {
                Length("from_mm", p.FromMm);
                Length("to_mm", p.ToMm);
            });
        }
    }

    private void Calibration(CalibrationReport c)
    {
        List("cards", c.Cards, card =>
        {
            json.WriteString("letter", card.Letter.ToString());
            json.WriteNumber("corners", card.Corners);
            Ratio("rms_px", card.RmsPx);
            Points("outline_px", card.OutlinePx);
            Length("turn_deg", card.TurnDeg);
        });
        json.WriteString("lens", c.Lens);
        Length("tilt_deg", c.TiltDeg);
        Length("distance_mm", c.DistanceMm);
        Ratio("mm_per_px", c.MmPerPx);
        Ratio("scale_uncertainty_percent", c.ScaleUncertaintyPercent);
    }

    private void Blank(BlankReport b)
    {
        Length("traced_length_mm", b.TracedLengthMm);
        Length("tip_turn_deg", b.TipTurnDeg);
        if (b.Reel is { } reel)
        {
            Length("reel_front_mm", reel.StationMm);
            Length("reel_front_uncertainty_mm", reel.UncertaintyMm);
            json.WriteString("reel_front_source", MeasurementJson.Spell(reel.Source));
        }

        json.WriteStartArray("axis");
        foreach (AxisSample a in b.Axis)
        {
            json.WriteRawValue(
                $"\n      {{\"s_mm\": {Text(a.SMm)}, \"x_px\": {Text(a.Px.X)}, \"y_px\": {Text(a.Px.Y)}, "
                + $"\"x_mm\": {Text(a.Mm.X)}, \"y_mm\": {Text(a.Mm.Y)}, \"diameter_mm\": {Text(a.DiameterMm)}"
                + (a.AcrossUncertaintyMm is { } u ? $", \"across_uncertainty_mm\": {Text(u)}}}" : "}"));
        }

        json.WriteEndArray();
    }

    private void Guide(GuideReport g)
    {
        json.WriteNumber("index", g.Index);
        json.WriteString("kind", g.IsTip ? "tip" : "guide");
        Length("station_mm", g.StationMm);
        Length("station_uncertainty_mm", g.Station.UncertaintyMm);
        Length("from_reel_mm", g.FromReelMm);
        if (g.FromReelUncertaintyMm is { } fromReel)
            Length("from_reel_uncertainty_mm", fromReel);
        Point("ring_px", g.RingPx);
        Length("height_mm", g.HeightMm);
        Length("height_uncertainty_mm", g.Height.UncertaintyMm);
        Length("ring_outer_mm", g.RingOuterMm);
        Length("line_angle_deg", g.LineAngleDeg);
        json.WriteString("source", MeasurementJson.Spell(g.Source));
        if (g is { StationSeenMm: { } station, HeightSeenMm: { } height })
        {
            Length("station_seen_mm", station);
            Length("height_seen_mm", height);
        }
    }

    private void Line(LineReport line)
    {
        json.WriteString("source", MeasurementJson.Spell(line.Source));
        Points("vertices_px", line.VerticesPx);
    }

    private void Interval(IntervalReport i)
    {
        json.WriteNumber("from", i.From);
        json.WriteNumber("to", i.To);
        Length("chord_mm", i.ChordMm);
        Length("gap_mm", i.GapMm);
        Length("gap_uncertainty_mm", i.Gap.UncertaintyMm);
        Length("gap_at_mm", i.GapAtMm);
        Length("bow_mm", i.BowMm);
        Length("bow_uncertainty_mm", i.Bow.UncertaintyMm);
        Length("bow_at_mm", i.BowAtMm);
        Length("clearance_mm", i.ClearanceMm);
        Length("clearance_at_mm", i.ClearanceAtMm);
        json.WriteBoolean("touches_blank", i.TouchesBlank);
        json.WriteString("source", MeasurementJson.Spell(i.Source));
        if (i.Seen is { } seen)
        {
            Length("gap_seen_mm", seen.GapMm);
            Length("bow_seen_mm", seen.BowMm);
            Length("clearance_seen_mm", seen.ClearanceMm);
        }
    }

    private void Largest(LargestReport l)
    {
        json.WritePropertyName("gap");
        json.WriteRawValue($"{{\"from\": {l.GapFrom}, \"to\": {l.GapTo}}}");
        json.WritePropertyName("bow");
        json.WriteRawValue($"{{\"from\": {l.BowFrom}, \"to\": {l.BowTo}}}");
    }

    private void Running(RunningReport r)
    {
        json.WriteNumber("reduction_guides", r.ReductionGuides);
        json.WritePropertyName("follows_worst");
        json.WriteRawValue($"{{\"from\": {r.From}, \"to\": {r.To}}}");
        json.WriteString("by", r.ByClearance ? "clearance" : "bow");
    }

    private void Suggestion(SuggestionReport s)
    {
        json.WriteString("why", s.Why);
        Length("add_at_mm", s.AddAtMm);
        List("moves", s.Moves, move =>
        {
            json.WriteNumber("guide", move.Guide);
            Length("from_mm", move.FromMm);
            Length("to_mm", move.ToMm);
        });
        Length("bow_before_mm", s.BowBeforeMm);
        Length("bow_after_mm", s.BowAfterMm);
        Length("gap_before_mm", s.GapBeforeMm);
        Length("gap_after_mm", s.GapAfterMm);
        List("layout", s.Layout, guide =>
        {
            if (guide.Index is { } index)
                json.WriteNumber("guide", index);
            else
                json.WriteNull("guide");
            Length("station_mm", guide.StationMm);
            Length("height_mm", guide.HeightMm);
            Point("ring_px", guide.RingPx);
        });
    }

    private void Pull(PullReport p)
    {
        json.WriteString("source", p.Source is { } source ? MeasurementJson.Spell(source) : null);
        Length("direction_deg", p.DirectionDeg);
        Length("direction_uncertainty_deg", p.DirectionUncertaintyDeg);
        Length("plumb_deg", p.PlumbDeg);
        Length("load_n", p.LoadN);
        Points("cord_px", p.CordPx);
    }

    private void Budget(BudgetReport b) => List("lines", b.Lines, line =>
    {
        json.WriteString("cause", MeasurementJson.Spell(line.Cause));
        Length("gap_mm", line.GapMm);
        Length("bow_mm", line.BowMm);
        Length("station_mm", line.StationMm);
        json.WriteString("do", line.Do);
    });

    private void Section<T>(string name, T? value, Action<T> write)
        where T : class
    {
        if (value is null)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        write(value);
        json.WriteEndObject();
    }

    private void List<T>(string name, IReadOnlyList<T> values, Action<T> write)
    {
        json.WriteStartArray(name);
        foreach (T value in values)
        {
            json.WriteStartObject();
            write(value);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private void Length(string name, double? value) => Number(name, value, MeasurementJson.LengthDecimals);

    private void Ratio(string name, double? value) => Number(name, value, MeasurementJson.RatioDecimals);

    private void Number(string name, double? value, int decimals)
    {
        json.WritePropertyName(name);
        if (value is { } v)
            json.WriteRawValue(Text(v, decimals));
        else
            json.WriteNullValue();
    }

    private void Points(string name, IReadOnlyList<Vec2> points)
    {
        json.WritePropertyName(name);
        json.WriteRawValue($"[{string.Join(", ", points.Select(Text))}]");
    }

    private void Point(string name, Vec2 p)
    {
        json.WritePropertyName(name);
        json.WriteRawValue(Text(p));
    }

    private static string Text(Vec2 p) => $"[{Text(p.X)}, {Text(p.Y)}]";

    /// <summary>Rounded, at least one decimal so that a length always reads as a measured number, and no negative zero.</summary>
    private static string Text(double value, int decimals = MeasurementJson.LengthDecimals)
    {
        if (!double.IsFinite(value))
            throw new ArgumentException("A figure of the measurement is not a number.");
        double rounded = Math.Round(value, decimals);
        return (rounded == 0 ? 0 : rounded).ToString("0.0" + new string('#', decimals - 1), CultureInfo.InvariantCulture);
    }
}
