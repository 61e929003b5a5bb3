using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout.Guides;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Cli.Commands.Desk;

/// <summary>What the layout desk's commands have in common: the measurement document and how lengths are given and shown.</summary>
internal sealed class DeskInput
{
    private readonly Argument<string> _document = new("MEASUREMENT.json") { Description = "A measurement.json that measure wrote (with --out or --json)." };
    private readonly Option<double?> _fromReel = Length("--from-reel", "LENGTH", 100, 3000, "Taped distance from the reel's front to the guide nearest it, where the measurement does not say.");
    private readonly Option<string?> _table = new("--guide-table") { HelpName = "FILE.csv", Description = "Guides at hand: ring,height_mm,mass_g,bore_mm, a row each; height from the blank to the ring's middle." };
    private readonly Option<string> _units;
    private readonly Option<string?> _title = new("--title") { HelpName = "NAME", Description = "Name of the rod or build. [default: the document's photo]" };
    private readonly Option<bool> _json = new("--json") { Description = "Write one JSON object to standard output, and nothing else." };

    public DeskInput(Command command, Terminal terminal, bool withTable = true)
    {
        _units = UnitOption.Make(terminal);
        command.Add(_document);
        foreach (Option option in withTable ? (Option[])[_json, _fromReel, _table, _units, _title] : [_json, _fromReel, _units, _title])
            command.Add(option);
    }

    /// <summary>An option that takes a length: "402mm", "15 13/16in".</summary>
    public static Option<double?> Length(string name, string helpName, string description) =>
        new(name) { CustomParser = NumberText.LengthMm, HelpName = helpName, Description = description };

    /// <summary>The same, with what is likely of it, mm: a number without a unit outside of that was meant in the other unit.</summary>
    public static Option<double?> Length(string name, string helpName, double leastLikelyMm, double mostLikelyMm, string description) =>
        new(name) { CustomParser = NumberText.LengthMm(leastLikelyMm, mostLikelyMm), HelpName = helpName, Description = description };

    public bool Json(ParseResult parsed) => parsed.GetValue(_json);

    public LengthUnit Unit(ParseResult parsed) => UnitOption.Of(parsed, _units);

    /// <summary>The rod's name: as given, else the document's photo, else the document.</summary>
    public string Name(ParseResult parsed, MeasuredLayout rod) =>
        parsed.GetValue(_title) ?? rod.Measurement.Photo?.FileName ?? Path.GetFileName(parsed.GetValue(_document)!);

    public string DocumentPath(ParseResult parsed) => parsed.GetValue(_document)!;

    /// <summary>The measured rod.</summary>
    /// <exception cref="RefusedException">The document holds none.</exception>
    public MeasuredLayout Rod(ParseResult parsed)
    {
        MeasuredLayout rod = Open(parsed.GetValue(_document)!);
        return parsed.GetValue(_fromReel) is { } taped ? rod.WithFirstGuideFromReel(AtLeastZero(taped, "--from-reel")) : rod;
    }

    /// <exception cref="UsageException">It cannot be read or used.</exception>
    public GuideTable? Table(ParseResult parsed) => parsed.GetValue(_table) is { } file ? UsageException.Unless(DocumentFile.Read(file, GuideTable.Parse)) : null;

    /// <exception cref="RefusedException">It is no measurement, or holds no rod.</exception>
    public static MeasuredLayout Open(string path) => RefusedException.Unless(DocumentFile.Read(InputFile.MustBeThere(path), MeasurementJson.Read).Then(MeasuredLayout.Of));

    private static double AtLeastZero(double value, string name) => value >= 0 ? value : throw new UsageException($"{name} must not be negative.");
}
