using System.CommandLine;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Proving;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary>Readings by hand on the command line: <c>--station</c>, <c>--gap</c>, <c>--readings</c>.</summary>
internal sealed class ReadingOptions
{
    private readonly Option<string[]> _station = Several("--station", "5=612mm±1", "Taped along the blank from the tip-top's ring to a guide, or between two (2-5=210mm±1). Guides count from the reel; ± is 95 %. [default ±: 2mm]");
    private readonly Option<string[]> _gap = Several("--gap", "3-4=14.2mm±0.3", "The largest distance from line to blank's surface between two neighbours (7-tip for the last). [default ±: 0.5mm]");
    private readonly Option<string?> _file = new("--readings") { HelpName = "FILE.csv", Description = "Readings in a file: what,guides,reading,plus_minus, as station,5,612mm,1 or gap,3-4,14.2mm,0.3; the same thing may stand there several times." };

    public ReadingOptions(Command command)
    {
        foreach (Option option in (Option[])[_station, _gap, _file])
            command.Add(option);
    }

    /// <exception cref="UsageException">One that is none, or none at all.</exception>
    public IReadOnlyList<HandReading> Read(ParseResult parsed, LengthUnit bare)
    {
        List<HandReading> all =
        [
            .. (parsed.GetValue(_station) ?? []).Select(t => One(ReadingKind.Station, t, bare, "--station", "5=612mm±1 or 2-5=210mm±1")),
            .. (parsed.GetValue(_gap) ?? []).Select(t => One(ReadingKind.Gap, t, bare, "--gap", "3-4=14.2mm±0.3 or 7-tip=10mm")),
        ];
        if (parsed.GetValue(_file) is { } path)
            all.AddRange(UsageException.Unless(DocumentFile.Read(InputFile.MustBeThere(path), text => ReadingsCsv.Parse(text, bare))));
        if (all.Count == 0)
            throw new UsageException("Give what was read: --station 5=612mm±1, --gap 3-4=14.2mm±0.3, or a file with --readings; deflectscan proof sheet prints a page for it.");
        return all.Find(r => r.Problem is not null)?.Problem is { } problem ? throw new UsageException(problem) : all;
    }

    private static HandReading One(ReadingKind kind, string text, LengthUnit bare, string option, string example) =>
        HandReading.Parse(kind, text, bare) ?? throw new UsageException($"'{text}' is no reading, as {option} needs: write {example}.");

    private static Option<string[]> Several(string name, string helpName, string description) =>
        new(name) { HelpName = helpName, Description = description, Arity = ArgumentArity.OneOrMore, AllowMultipleArgumentsPerToken = false };
}
