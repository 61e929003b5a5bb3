using System.CommandLine;
using DeflectScan.Bending;
using DeflectScan.Cli.Commands.Desk;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Plots;
using ForceText = DeflectScan.Geometry.ForceText;

namespace DeflectScan.Cli.Commands.Bending;

/// <summary>What the commands on a blank have in common: further photos, the photo at rest, own weight.</summary>
internal sealed class BlankInput
{
    private readonly Option<string[]> _with = new("--with") { HelpName = "OTHER.json", Description = "The same rod at another load, clamped alike: its photos tell more together.", Arity = ArgumentArity.OneOrMore };
    private readonly Option<string?> _rest = new("--rest") { HelpName = "REST.json", Description = "The rod unloaded in the same set-up: its natural curve." };
    private readonly Option<string?> _weight = new("--weight") { HelpName = "58g|typical", Description = "Weight of the bare blank beyond the clamp; guides come from the guide table or are typical." };
    private readonly Option<bool> _untouched = new("--untouched") { Description = "Between the photos only the load was changed; clamp, rod and cards were left alone. Predicts other bends much better." };
    private readonly Option<double?> _unseen = DeskInput.Length("--unseen", "LENGTH", "Blank between where its trace ends and the clamp, which bends unseen; 0 where the clamp grips it there. [default: what photos with --untouched tell, else not known]");

    public BlankInput(Command command)
    {
        foreach (Option option in (Option[])[_with, _rest, _untouched, _weight, _unseen])
            command.Add(option);
    }

    /// <summary>The blank of a document with what was told besides.</summary>
    /// <exception cref="UsageException">A value or a file that cannot be used.</exception>
    public BlankSource Read(ParseResult parsed, Measurement reference, DeskInput input)
    {
        BlankSource source = new(reference)
        {
            With = [.. (parsed.GetValue(_with) ?? []).Select(Document)],
            Rest = parsed.GetValue(_rest) is { } rest ? Document(rest) : null,
            Untouched = parsed.GetValue(_untouched),
            Guides = input.Table(parsed),
            UnseenMm = parsed.GetValue(_unseen) is { } mm ? InRange(mm) : null,
        };
        if (source.Untouched && source.With.Count == 0 && source.Rest is null)
            throw new UsageException("--untouched speaks of several photos: give another with --with or --rest.");
        return parsed.GetValue(_weight) switch
        {
            null => source,
            "typical" => source with { BlankWeightN = OwnWeightOfRod.TypicalBlankN(reference), WeightIsTypical = true },
            { } text => source with { BlankWeightN = Weight(text) },
        };
    }

    /// <summary>A measurement document that was given besides the first one.</summary>
    /// <exception cref="UsageException">It cannot be read, or holds no blank.</exception>
    public static Measurement Document(string path)
    {
        Outcome<Measurement> document = DocumentFile.Read(path, MeasurementJson.Read);
        Measurement m = document.Value ?? throw new UsageException($"{Path.GetFileName(path)}: {document.Findings[0].Message}");
        return m.Blank is null ? throw new UsageException($"{Path.GetFileName(path)} holds no measured blank: give a document whose status is ok or needs_review.") : m;
    }

    private static double Weight(string text) => ForceText.Parse(text) is { } newton and > 0 and < 50
        ? newton
        : throw new UsageException($"'{text}' is no blank's weight: write it like 58g or 2.1oz, or typical.");

    private static double InRange(double mm) => mm is >= 0 and <= 1000 ? mm : throw new UsageException("The unseen length of blank must be from 0 to 1000 mm.");
}
