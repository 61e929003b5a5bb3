using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Start;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using Spectre.Console;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan carry</c>: a measured layout on another blank.</summary>
internal static class CarryCommand
{
    public static Command Make(Terminal terminal)
    {
        Option<double?> reach = DeskInput.Length("--reel-to-tip", "LENGTH", 400, 6000, "From the reel's front to the tip on the other blank.");
        Option<string?> bend = new("--onto") { HelpName = "OTHER.json", Description = "The other blank's own measurement: running guides are then placed by equal bow on its bend." };
        Option<int?> reduction = new("--reduction") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Guides from the reel that are reduction guides. [default: 3 inside, 1 outside]" };
        Option<double?> least = DeskInput.Length("--least-spacing", "LENGTH", "No two guides nearer to each other. [default: 40mm]");
        Option<string?> save = new("--save") { HelpName = "FILE.json", Description = DeskOutput.SaveHelp };
        Command command = new("carry", "Carry a measured layout over to another blank: reduction guides keep their distance from the reel.") { reach, bend, reduction, least, save };
        DeskInput input = new(command, terminal, withTable: false);
        Outputs outputs = new Outputs(command).With(save, OutputFormat.Json);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                OutputFiles files = outputs.Of(parsed);
                MeasuredLayout rod = input.Rod(parsed);
                MeasuredLayout? other = parsed.GetValue(bend) is { } path ? DeskInput.Open(path) : null;
                SpacingOptions spacing = new() { LeastSpacingMm = parsed.GetValue(least) ?? new SpacingOptions().LeastSpacingMm };
                CarriedRod carried = UsageException.Unless(CarriedRod.Of(rod, other, parsed.GetValue(reach), parsed.GetValue(reduction), spacing));
                string name = input.Name(parsed, rod);
                DeskOutput.Save(terminal, files, parsed.GetValue(save), DeskSheet.Of(carried.Layout, carried.Reduction, [.. rod.Measurement.Guides.Select(g => g.RingOuterMm)], name));
                if (input.Json(parsed))
                    terminal.Out.Write(DeskJson.Write(CarryReport.Of(carried.Reduction, carried.Layout)));
                else
                    Show(new DeskPage(terminal, input.Unit(parsed)), carried, new Figures(input.Unit(parsed)), name);
                return other?.Measurement.Status == MeasurementStatus.NeedsReview ? ExitCode.NeedsReview : ExitCode.For(rod.Measurement.Status);
            },
            cancel));
        return command;
    }

    private static void Show(DeskPage page, CarriedRod rod, Figures figures, string name)
    {
        page.Title($"{name}: carried over to another blank");
        CarriedLayout carried = rod.Layout;
        page.Sentence(carried.Says);
        Table table = DeskTables.Make(
            page.Border,
            [("Guide", false), ("Kind", false), ("From reel " + figures.UnitName, true), ("1/16 in", true), ("From tip " + figures.UnitName, true), ("On the first rod", true)]);
        int last = carried.FromReelMm.Count - 1;
        for (int i = 0; i <= last; i++)
        {
            DeskTables.Row(
                table,
                [
                    i == last ? "tip-top" : $"{i + 1}", i == last ? "tip-top" : i < rod.Reduction ? "reduction" : "running", figures.Bare(carried.FromReelMm[i]),
                    Figures.BareSixteenths(carried.FromReelMm[i]), figures.Bare(carried.FromTipMm[i]), figures.Bare(rod.FromReelMm[i]),
                ]);
        }

        page.Write(table);
    }
}
