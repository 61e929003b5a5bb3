namespace DeflectScan.Writing;

/// <summary>What a file of ours can be.</summary>
public enum OutputFormat
{
    /// <summary>None of the others.</summary>
    Other,
    Json,
    Csv,
    Png,
    Jpeg,
    Pdf,
    Svg,
    Html,
    Zip,
}

/// <summary>Which endings a file's name may have.</summary>
public static class OutputEndings
{
    /// <summary>The endings that fit a format, the usual one first; none for <see cref="OutputFormat.Other"/>, which fits any name.</summary>
    public static IReadOnlyList<string> Of(OutputFormat format) => format switch
    {
        OutputFormat.Json => [".json"],
        OutputFormat.Csv => [".csv"],
        OutputFormat.Png => [".png"],
        OutputFormat.Jpeg => [".jpg", ".jpeg"],
        OutputFormat.Pdf => [".pdf"],
        OutputFormat.Svg => [".svg"],
        OutputFormat.Html => [".html", ".htm"],
        OutputFormat.Zip => [".zip"],
        _ => [],
    };

    /// <summary>Whether a file of this format may have this name.</summary>
    public static bool Fit(string path, OutputFormat format) =>
        format == OutputFormat.Other || Of(format).Contains(Path.GetExtension(path), StringComparer.OrdinalIgnoreCase);
}
