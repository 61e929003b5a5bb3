using System.Text.Json;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Reporting.Json;

/// <summary>A layout to print and whether its figures may be trusted: from a kept layout or from a measurement.</summary>
public sealed record PrintableLayout(SheetLayout Layout, MeasurementStatus Status)
{
    /// <summary>Reads either document.</summary>
    public static Outcome<PrintableLayout> Read(string text) => !text.Contains(MeasurementJson.Schema, StringComparison.Ordinal) || IsLayout(text)
        ? LayoutJson.Read(text).Map(layout => new PrintableLayout(layout, MeasurementStatus.Ok))
        : MeasurementJson.Read(text).Then(MeasuredLayout.Of)
            .Map(r => new PrintableLayout(DeskSheet.Of(r, JudgedLayout.Measured(r), r.Measurement.Photo?.FileName ?? "Measured layout"), r.Measurement.Status));

    /// <summary>The layout as it is to be printed.</summary>
    /// <param name="title">The rod or build; null: the layout's own.</param>
    /// <param name="blankLengthMm">Whole length of the blank; null: what the photo showed of it.</param>
    /// <returns>Refused (guides-uncertain) where it does not fit on that length or on the paper.</returns>
    public Outcome<SheetLayout> On(string? title, double? blankLengthMm)
    {
        SheetLayout layout = Layout with { Title = title ?? Layout.Title };
        if (blankLengthMm is { } whole)
        {
            if (!(whole >= layout.Guides.Max(g => g.FromTipMm) && whole < 20_000))
                return Refused("The blank's length must reach the guide farthest from the tip and be less than 20000 mm.");
            layout = layout with { BlankLengthMm = whole, LengthIsTraced = false };
        }

        return LayoutSheet.Problem(layout) is { } problem ? Refused(problem) : Outcome<SheetLayout>.Of(layout);

        static Outcome<SheetLayout> Refused(string message) => Outcome<SheetLayout>.Refused(FindingCode.GuidesUncertain, message);
    }

    private static bool IsLayout(string text)
    {
        try
        {
            using JsonDocument json = JsonDocument.Parse(text);
            return json.RootElement.ValueKind == JsonValueKind.Object && json.RootElement.TryGetProperty("schema", out JsonElement s) && s.ValueEquals(LayoutJson.Schema);
        }
        catch (JsonException)
        {
            return false;
        }
    }
}
