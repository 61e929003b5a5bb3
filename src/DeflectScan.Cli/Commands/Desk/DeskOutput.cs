using System.Text;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Plots;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary>Files that the desk's commands leave.</summary>
internal static class DeskOutput
{
    public const string SaveHelp = "Keep the layout in a file that sheet and tape print from.";

    public static void Save(Terminal terminal, OutputFiles files, string? path, SheetLayout layout)
    {
        if (path is not null)
            Outputs.Write(terminal, files, path, Encoding.UTF8.GetBytes(LayoutJson.Write(layout)));
    }

    /// <exception cref="UsageException">Another ending.</exception>
    public static PlotFormat PlotFormat(string file) => Path.GetExtension(file).ToLowerInvariant() switch
    {
        ".png" => Reporting.Plots.PlotFormat.Png,
        ".svg" => Reporting.Plots.PlotFormat.Svg,
        ".pdf" => Reporting.Plots.PlotFormat.Pdf,
        _ => throw new UsageException("The picture's file must end in .png, .svg or .pdf."),
    };
}
