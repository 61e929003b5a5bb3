using System.Globalization;
using DeflectScan.Calibration.Lens;
using DeflectScan.Cli.Running;
using Spectre.Console;

namespace DeflectScan.Cli.Display;

/// <summary>A calibration as a person reads it.</summary>
internal sealed class LensDisplay(Terminal terminal)
{
    private static readonly (string Name, string Unit, string Format)[] Parameters =
    [
        ("focal length", "px", "0.00"), ("principal point x", "px", "0.00"), ("principal point y", "px", "0.00"),
        ("radial k1", "", "0.00000"), ("radial k2", "", "0.00000"), ("tangential p1", "", "0.000000"), ("tangential p2", "", "0.000000"), ("radial k3", "", "0.00000"),
    ];

    private readonly IAnsiConsole _console = terminal.Tables();

    public void Show(LensCalibration lens)
    {
        Line($"{lens.Profile.Name}: {lens.Profile.WidthPx} × {lens.Profile.HeightPx} px, {lens.Views.Count} views, {lens.CornersPx.Count} corners", bold: true);
        double[] values = [lens.Profile.FocalPx, lens.Profile.PrincipalXPx, lens.Profile.PrincipalYPx, .. lens.Profile.Distortion];
        Table table = NewTable("Parameter", "Value", "±95 %");
        for (int i = 0; i < values.Length; i++)
        {
            (string name, string unit, string format) = Parameters[i];
            string Text(double v) => $"{v.ToString(format, CultureInfo.InvariantCulture)} {unit}".TrimEnd();
            table.AddRow(new Text(name), new Text(Text(values[i])), new Text(lens.Sd[i] > 0 ? Text(2 * lens.Sd[i]) : "held"));
        }

        _console.Write(table);
        Line($"Residual {lens.Profile.RmsPx:0.000} px (rms); {100 * lens.Coverage:0} % of the picture covered, out to {100 * lens.OutermostShare:0} % of its half diagonal; boards turned by up to {lens.TurnDeg:0}°.");
        Table views = NewTable("Photo", "Corners", "Residual px", "Tilt", "Distance m");
        foreach (ViewReport v in lens.Views)
            views.AddRow(new Text(SafeText.Of(v.Photo)), new Text($"{v.Corners}"), new Text($"{v.RmsPx:0.000}"), new Text($"{v.TiltDeg:0}°"), new Text($"{v.DistanceMm / 1000:0.00}"));
        _console.Write(views);
        if (lens.Warnings.Count > 0)
            Line("\nWhat would make it better", bold: true);
        foreach (string warning in lens.Warnings)
            Line($"  {warning}");
    }

    private Table NewTable(params string[] columns)
    {
        Table table = new() { Border = terminal.OutIsTerminal ? TableBorder.Simple : TableBorder.None };
        for (int i = 0; i < columns.Length; i++)
            table.AddColumn(new TableColumn(new Text(columns[i])) { NoWrap = true, Alignment = i == 0 ? Justify.Left : Justify.Right });
        return table;
    }

    private void Line(string text, bool bold = false) =>
        _console.Write(new Text(string.Join('\n', text.Split('\n').Select(SafeText.Of)) + "\n", new Style(decoration: bold ? Decoration.Bold : Decoration.None)));
}
