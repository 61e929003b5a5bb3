using System.Globalization;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;

namespace DeflectScan.Records.Transfer;

/// <summary>An export may come from anyone: its rows must be such as this program writes.</summary>
internal static class ImportChecks
{
    /// <exception cref="InvalidDataException">The row is none that this program writes.</exception>
    public static void Check(Row row)
    {
        foreach ((Column column, object? value) in row.Table.Columns.Zip(row.Values))
        {
            bool sound = (column.Name, value) switch
            {
                (_, null) => true,
                ("id" or "build_id" or "revision_id" or "layout_id" or "measurement_id" or "to_build_id" or "proof_id", string id) => Guid.TryParseExact(id, "D", out Guid read) && read.ToString() == id,
                ("sha256" or "photo_sha256" or "lens_sha256" or "document_sha256", string hash) => hash.Length == 64 && hash.All(c => char.IsAsciiDigit(c) || c is >= 'a' and <= 'f'),
                ("at" or "created_at" or "made_at", string time) => IsTime(time),
                ("extension", string ending) => ending is ".jpg" or ".png" or ".webp" or ".heic" or ".photo",
                ("bytes", long bytes) => bytes is > 0 and <= ExportFormat.MaxPhotoBytes,
                (_, long whole) => whole is >= 0 and <= int.MaxValue,
                ("chi_square" or "largest_en", double real) => real is >= 0 and < 1e15,
                (_, double real) => Math.Abs(real) < 1e6,
                (_, string text) => text.Length < 1_000_000,
                _ => true,
            };
            if (!sound)
                throw new InvalidDataException($"{column.Name} of a row of {row.Table.Name} has a value that this program does not write.");
        }

        if (row.Table == Tables.Measurements)
            SettingsJson.Read(row.Text("settings"));
        if (row.Table == Tables.Revisions && RowsOf.Facts(row, []).FirstProblem() is { } problem)
            throw new InvalidDataException(problem);
    }

    private static bool IsTime(string text) =>
        DateTime.TryParseExact(text, "yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal | DateTimeStyles.AssumeUniversal, out _);
}
