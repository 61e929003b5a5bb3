using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Geometry;
using DeflectScan.Writing;

namespace DeflectScan.Writing;

/// <summary>What a user chose once for all runs: a small document in the user's configuration folder.</summary>
/// <param name="Units">The unit that lengths are shown in first and that bare numbers are in.</param>
public sealed record Settings(LengthUnit Units)
{
    public const string Schema = "deflectscan.settings/1";

    /// <summary>Where nothing was chosen.</summary>
    public static Settings Default { get; } = new(LengthUnit.Millimetres);

    /// <summary>The settings of a file; the defaults where there is none, or none of ours.</summary>
    public static Settings Read(string? path)
    {
        try
        {
            if (path is null || !File.Exists(path))
                return Default;
            using JsonDocument json = JsonDocument.Parse(File.ReadAllBytes(path));
            return json.RootElement.TryGetProperty("units", out JsonElement units) && units.ValueEquals("in") ? new Settings(LengthUnit.Inches) : Default;
        }
        catch (Exception e) when (e is JsonException or IOException or UnauthorizedAccessException or InvalidOperationException)
        {
            return Default;
        }
    }

    /// <summary>Keeps them, the folder being made where needed.</summary>
    /// <exception cref="OutputRefusedException">The file cannot be written, or is not ours.</exception>
    public void Write(string path)
    {
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new OutputRefusedException("The configuration folder cannot be made: set XDG_CONFIG_HOME to a folder that you may write to.");
        }

        new OutputFiles([], force: false).Write(path, Encoding.UTF8.GetBytes(new JsonObject { ["schema"] = Schema, ["units"] = UnitsInSentences.Name(Units) }.ToJsonString()));
    }
}
