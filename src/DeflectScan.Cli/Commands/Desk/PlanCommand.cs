using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Layout.Start;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan plan</c>: a layout to tape on before there is anything to measure.</summary>
internal static class PlanCommand
{
    private const double KilogramsAPound = 0.45359237;

    public static Command Make(Terminal terminal)
    {
        Option<double?> length = DeskInput.Length("--rod-length", "LENGTH", 500, 6000, "The whole rod's length: 6ft 6in, 1980mm.");
        length.Required = true;
        Option<double?> handle = DeskInput.Length("--reel-at", "LENGTH", 50, 1500, "From the butt end to the front of the reel.");
        handle.Required = true;
        Option<string> kind = new("--rod") { HelpName = "spinning|casting", Description = "Kind of rod.", DefaultValueFactory = _ => "spinning" };
        kind.AcceptOnlyFromAmong("spinning", "casting");
        Option<int?> reel = new("--reel") { CustomParser = NumberText.Whole, HelpName = "CLASS", Description = "Reel class: spinning 1000 to 5000, casting 50 to 400. [default: 2000, casting 200]" };
        Option<double?> lip = DeskInput.Length("--spool-lip", "LENGTH", "Diameter of the spool's lip, where it differs from the class's.");
        Option<double?> axis = DeskInput.Length("--spool-height", "LENGTH", "Height of the spool's axis over the blank's axis.");
        Option<string> line = new("--line") { HelpName = "braid|mono", Description = "Kind of main line.", DefaultValueFactory = _ => "braid" };
        line.AcceptOnlyFromAmong("braid", "mono");
        Option<double?> strength = Strength("--strength", "Main line's strength: 5kg, 10lb. [default: 5kg]");
        Option<double?> leader = Strength("--leader", "Strength of the single-filament leader whose knot must pass; 0 for none. [default: 5kg]");
        Option<string> running = new("--running") { HelpName = "equal|bow", Description = "How running guides start: equally spaced, or by equal bow on a typical bend.", DefaultValueFactory = _ => "equal" };
        running.AcceptOnlyFromAmong("equal", "bow");
        Option<bool> json = new("--json") { Description = "Write one JSON object to standard output, and nothing else." };
        Option<string> units = UnitOption.Make(terminal);
        Option<string> title = new("--title") { HelpName = "NAME", Description = "Name of the build.", DefaultValueFactory = _ => "Start layout" };
        Option<string?> save = new("--save") { HelpName = "FILE.json", Description = DeskOutput.SaveHelp };
        Command command = new("plan", "Plan a layout to tape on before the first test, from reel, line and rod; each value says what it rests on.")
        {
            length, handle, kind, reel, lip, axis, line, strength, leader, running, json, units, title, save,
        };
        Outputs outputs = new Outputs(command).With(save, OutputFormat.Json);
        ExitCodeHelp.State(command, 0, 1, 2, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                OutputFiles files = outputs.Of(parsed);
                StartInput usual = new() { RodLengthMm = 0, ReelFrontFromButtMm = 0 };
                RodKind rod = parsed.GetValue(kind) == "casting" ? RodKind.Casting : RodKind.Spinning;
                StartInput input = usual with
                {
                    Kind = rod,
                    ReelClass = parsed.GetValue(reel) ?? GuidePractice.ReelClasses(rod).Usual,
                    RunningByBow = parsed.GetValue(running) == "bow",
                    SpoolLipMm = parsed.GetValue(lip),
                    SpoolAxisHeightMm = parsed.GetValue(axis),
                    Line = parsed.GetValue(line) == "mono" ? LineKind.Monofilament : LineKind.Braid,
                    LineStrengthKg = parsed.GetValue(strength) ?? usual.LineStrengthKg,
                    LeaderStrengthKg = parsed.GetValue(leader) is { } kg ? (kg == 0 ? null : kg) : usual.LeaderStrengthKg,
                    RodLengthMm = parsed.GetValue(length)!.Value,
                    ReelFrontFromButtMm = parsed.GetValue(handle)!.Value,
                };
                if (input.RodLengthMm is < 300 or > 10_000 || input.ReelFrontFromButtMm < 0)
                    throw new UsageException("The rod's length must be from 300 to 10000 mm and the reel's place not negative.");
                StartLayout layout = UsageException.Unless(StartRule.Plan(input));
                DeskOutput.Save(terminal, files, parsed.GetValue(save), DeskSheet.Of(layout, input, parsed.GetValue(title)!));
                if (parsed.GetValue(json))
                    terminal.Out.Write(DeskJson.Write(PlanReport.Of(input, layout)));
                else
                    new PlanDisplay(terminal, new Figures(UnitOption.Of(parsed, units))).Show(layout, parsed.GetValue(title)!);
                return ExitCode.Ok;
            },
            cancel));
        return command;
    }

    private static Option<double?> Strength(string name, string description) => new(name)
    {
        HelpName = "STRENGTH",
        Description = description,
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value.Trim().ToLowerInvariant();
            bool pounds = text.EndsWith("lb", StringComparison.Ordinal);
            string number = pounds ? text[..^2] : text.EndsWith("kg", StringComparison.Ordinal) ? text[..^2] : text;
            if (double.TryParse(number.TrimEnd(), System.Globalization.NumberStyles.AllowDecimalPoint, System.Globalization.CultureInfo.InvariantCulture, out double value) && value <= 500)
                return pounds ? value * KilogramsAPound : value;
            result.AddError($"'{result.Tokens[0].Value}' is no strength: write it as in 5kg or 10lb.");
            return null;
        },
    };
}
