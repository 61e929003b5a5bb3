using System.CommandLine;
using DeflectScan.Cli.Display;
using DeflectScan.Cli.Display.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Layout.OnRings;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary><c>deflectscan rings</c>: what the line does to each guide at a given pull.</summary>
internal static class RingsCommand
{
    public static Command Make(Terminal terminal)
    {
        Option<double?> pull = new("--pull") { CustomParser = PullArgument.Newtons, HelpName = "FORCE", Description = "Pull in the line beyond the tip-top: 10N, 1kg, 2.2lb; it is computed, not tried: never bend the tip beyond 90 degrees to the butt. [default: 10N]" };
        Option<double?> friction = new("--friction")
        {
            CustomParser = NumberText.Decimal, HelpName = "X", Description = "Coefficient of friction of line on ring. [default: 0.15, typical of polished ceramic; common practice, no source]",
        };
        Option<string> motion = new("--line") { HelpName = "still|in|out", Description = "The line does not slip, is wound in, or is taken out.", DefaultValueFactory = _ => "still" };
        motion.AcceptOnlyFromAmong("still", "in", "out");
        Option<double?> thickness = DeskInput.Length("--line-diameter", "LENGTH", "The line's thickness. [default: 0.3mm]");
        Command command = new("rings", "Show the line on the rings of a measured rod: angle, load, friction, kinks, and where it touches the blank.") { pull, friction, motion, thickness };
        DeskInput input = new(command, terminal, withTable: false);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                LineLoadOptions options = new()
                {
                    PullN = Within(parsed.GetValue(pull) ?? 10, 0.01, 5000, "The pull must be from 0.01 to 5000 N."),
                    Friction = Within(parsed.GetValue(friction) ?? LineLoadOptions.TypicalFriction, 0, 1, "The coefficient of friction must be from 0 to 1."),
                    FrictionOnBlank = parsed.GetValue(friction) ?? LineLoadOptions.TypicalFriction,
                    Motion = parsed.GetValue(motion) switch { "in" => LineMotion.TowardReel, "out" => LineMotion.TowardTip, _ => LineMotion.Still },
                };
                double diameter = Within(parsed.GetValue(thickness) ?? 0.3, 0.02, 3, "The line's thickness must be from 0.02 to 3 mm.");
                MeasuredLayout rod = input.Rod(parsed);
                RingsReport report = RingsReport.Of(rod, options, diameter);
                if (input.Json(parsed))
                    terminal.Out.Write(DeskJson.Write(report));
                else
                    new RingsDisplay(terminal, new Figures(input.Unit(parsed))).Show(report, input.Name(parsed, rod));
                return ExitCode.For(rod.Measurement.Status);
            },
            cancel));
        return command;
    }

    private static double Within(double value, double low, double high, string problem) =>
        value >= low && value <= high ? value : throw new UsageException(problem);
}
