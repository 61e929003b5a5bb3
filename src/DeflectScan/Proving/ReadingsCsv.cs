using System.Globalization;
using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Proving;

/// <summary>
/// A file of readings: <c>what,guides,reading,plus_minus</c>, a reading a line (<c>station,5,612mm,1</c>, <c>station,2-5,210,</c>, <c>gap,3-4,14.2mm,0.3</c>). The
/// head line may be missing, semicolons may stand for commas, lines that begin with # are passed over.
/// </summary>
public static class ReadingsCsv
{
    /// <summary>The readings, or one sentence with the line on why it is no such file.</summary>
    public static Outcome<IReadOnlyList<HandReading>> Parse(string text, LengthUnit bare = LengthUnit.Millimetres)
    {
        List<HandReading> all = [];
        string[] lines = text.TrimStart('\uFEFF').ReplaceLineEndings("\n").Split('\n');
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i].Trim();
            if (line.Length == 0 || line[0] == '#' || (all.Count == 0 && line.StartsWith("what", StringComparison.OrdinalIgnoreCase)))
                continue;
            string[] cells = [.. line.Split(line.Contains(';', StringComparison.Ordinal) ? ';' : ',').Select(c => c.Trim().Trim('"').Trim())];
            if (cells is ["station" or "gap", _, "", ..])
                continue; // a line of the sheet that was left empty
            if (Reading(cells, bare) is not { } reading)
                return Refused($"Line {i + 1} of the readings is none: write what,guides,reading,plus_minus as in station,5,612mm,1 or gap,3-4,14.2mm,0.3.");
            all.Add(reading);
            if (all.Count > ProofForm.MostReadings)
                return Refused($"A file of readings may hold at most {ProofForm.MostReadings}: give those of one rod.");
        }

        return Outcome<IReadOnlyList<HandReading>>.Of(all);

        static Outcome<IReadOnlyList<HandReading>> Refused(string message) => Outcome<IReadOnlyList<HandReading>>.Refused(FindingCode.FileUnreadable, message);
    }

    /// <summary>The same as text, the head line first.</summary>
    public static string Write(IEnumerable<HandReading> readings) => "what,guides,reading,plus_minus\n" + string.Concat(readings.Select(r => string.Create(
        CultureInfo.InvariantCulture,
        $"{(r.Kind == ReadingKind.Gap ? "gap" : "station")},{r.From}{(r.To is { } to ? $"-{to}" : r.Kind == ReadingKind.Gap ? "-tip" : "")},{r.Mm:0.####}mm,{r.UncertaintyMm:0.####}mm\n")));

    private static HandReading? Reading(string[] cells, LengthUnit bare)
    {
        if (cells.Length is < 3 or > 4)
            return null;
        ReadingKind? kind = cells[0].ToLowerInvariant() switch { "station" => ReadingKind.Station, "gap" => ReadingKind.Gap, _ => null };
        string pm = cells.Length == 4 && cells[3].Length > 0 ? "±" + cells[3] : "";
        return kind is { } k ? HandReading.Parse(k, $"{cells[1]}={cells[2]}{pm}", bare) : null;
    }
}
