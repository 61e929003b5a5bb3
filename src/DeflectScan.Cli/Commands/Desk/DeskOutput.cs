using System.Text;
using DeflectScan.Cli.Running;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary>Files that the desk's commands leave.</summary>
internal static class DeskOutput
{
    public const string SaveHelp = "Keep the layout in a file that sheet and tape print from.";

    public static void Save(Terminal terminal, OutputFiles files, string? path, SheetLayout layout)
    {
        if (path is null)
            return;
        Write(terminal, files, path, Encoding.UTF8.GetBytes(LayoutJson.Write(layout)));
    }

    public static void Write(Terminal terminal, OutputFiles files, string path, byte[] bytes)
    {
        files.Write(path, bytes);
        terminal.Say($"Written to {Path.GetFullPath(path)}");
    }
}
