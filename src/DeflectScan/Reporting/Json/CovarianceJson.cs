using System.Globalization;
using System.Text.Json;
using DeflectScan.Findings;

namespace DeflectScan.Reporting.Json;

/// <summary>The document's member <c>covariance</c>: <c>mm2</c>, the lower triangle row by row, and <c>cards_off</c>. Numbers have 6 decimals.</summary>
internal static class CovarianceJson
{
    public static void Write(Utf8JsonWriter json, FigureCovariance c)
    {
        json.WriteStartObject("covariance");
        json.WriteStartArray("mm2");
        foreach (IReadOnlyList<double> row in c.Mm2)
            json.WriteRawValue($"\n      {Text(row)}");
        json.WriteEndArray();
        json.WriteStartArray("cards_off");
        foreach (CardOffEffect off in c.CardsOff)
        {
            json.WriteStartObject();
            json.WriteString("letter", off.Letter.ToString());
            json.WritePropertyName("per_mm");
            json.WriteRawValue(Text(off.PerMm));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    /// <exception cref="InputException">Rows of the wrong length, or a number that is none.</exception>
    public static FigureCovariance Read(JsonElement c)
    {
        FigureCovariance read = new([.. c.GetProperty("mm2").EnumerateArray().Select(Numbers)], [.. c.GetProperty("cards_off").EnumerateArray().Select(CardOff)]);
        bool fits = read.Mm2.Select((row, i) => row.Count == i + 1 && row[i] >= 0).All(f => f) && read.CardsOff.All(o => o.PerMm.Count == read.Mm2.Count);
        return fits ? read : throw new InputException("The measurement document is damaged: its covariance has rows of the wrong length.");
    }

    private static CardOffEffect CardOff(JsonElement o) => o.GetProperty("letter").GetString() is [>= 'A' and <= 'Z' and var letter]
        ? new CardOffEffect(letter, Numbers(o.GetProperty("per_mm")))
        : throw new InputException("A card's letter must be one letter.");

    private static IReadOnlyList<double> Numbers(JsonElement e) =>
        [.. e.EnumerateArray().Select(v => v.TryGetDouble(out double value) && double.IsFinite(value) ? value : throw new InputException("The measurement document is damaged: a figure is out of all bounds."))];

    private static string Text(IReadOnlyList<double> row) => $"[{string.Join(", ", row.Select(Text))}]";

    private static string Text(double value)
    {
        if (!double.IsFinite(value))
            throw new ArgumentException("A figure of the measurement is not a number.");
        double rounded = Math.Round(value, MeasurementJson.RatioDecimals);
        return (rounded == 0 ? 0 : rounded).ToString("0.0#####", CultureInfo.InvariantCulture);
    }
}
