using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Reporting.Cards;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan card</c>: a scale card to print at 100 %.</summary>
internal static class CardCommand
{
    public static Command Make(Engine engine, Terminal terminal)
    {
        Option<string> letter = new("--letter") { HelpName = "A..E", Description = "Which of the five cards.", DefaultValueFactory = _ => "A" };
        letter.AcceptOnlyFromAmong("A", "B", "C", "D", "E");
        Option<string> paper = new("--paper") { HelpName = "a4|letter", Description = "Paper that it is printed on.", DefaultValueFactory = _ => "a4" };
        paper.AcceptOnlyFromAmong("a4", "letter");
        Option<string> file = new("--out") { HelpName = "FILE", Description = "File to write; its ending says the kind: .pdf, .svg or .png.", Required = true };
        Command command = new("card", "Draw a scale card to print at 100 % on stiff, flat, matt board.") { letter, paper, file };
        Outputs outputs = new Outputs(command).With(file, OutputFormat.Pdf, OutputFormat.Svg, OutputFormat.Png);
        ExitCodeHelp.State(command, 0, 1, 2, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                string path = parsed.GetValue(file)!;
                string kind = Path.GetExtension(path).TrimStart('.').ToLowerInvariant();
                OutputFiles files = outputs.Of(parsed);
                Paper sheet = parsed.GetValue(paper) == "letter" ? Paper.Letter : Paper.A4;
                files.Write(path, engine.DrawCard(parsed.GetValue(letter)![0], sheet, kind));
                terminal.Say($"Written to {Path.GetFullPath(path)}; print it at 100 % and check its 100 mm rule with a ruler.");
                return ExitCode.Ok;
            },
            cancel));
        return command;
    }
}
