using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records.Model;

namespace DeflectScan.Cli.Commands.Records;

/// <summary>What a person may say of a build on the command line; length and side are those of the measurement's own options.</summary>
internal sealed class BuildFlags
{
    private readonly Option<string?> _name = Text("--name", "NAME", "The build's name; without --build this makes a new build.");
    private readonly Option<string?> _owner = Text("--owner", "TEXT", "Whose rod it is, as you like to put it.");
    private readonly Option<string?> _blank = Text("--blank", "TEXT", "The blank's designation as its maker gives it.");
    private readonly Option<int?> _pieces = new("--pieces") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Pieces of the blank." };
    private readonly Option<string?> _spine = Text("--spine", "TEXT", "Where the spine is marked.");
    private readonly Option<string?> _handle = Text("--handle", "TEXT", "The handle and reel seat.");
    private readonly Option<int?> _reel = new("--reel") { CustomParser = NumberText.Whole, HelpName = "CLASS", Description = "Reel class, as 2500." };
    private readonly Option<string?> _line = Text("--line", "TEXT", "The line.");
    private readonly Option<string?> _use = Text("--use", "TEXT", "What the rod is for.");
    private readonly Option<string?> _remarks = Text("--remarks", "TEXT", "Anything else.");
    private readonly Option<string[]> _guides = new("--guide")
    {
        HelpName = "TEXT", Description = "A guide as built, once for each: \"tip 1222mm, reel 22 1/2in, ring 25, frame high, two feet\". These replace the list that was known.",
    };

    private readonly Option<bool> _asMeasured = new("--as-measured") { Description = "The guides as built are those that the latest photo shows; known frames and ring sizes stay." };
    private readonly Option<string?> _from = Text("--from", "FILE.json", $"A build's document ({BuildFactsJson.Schema}): all of these, and the guides.");

    public BuildFlags(Command command)
    {
        foreach (Option option in new Option[] { _name, _owner, _blank, _pieces, _spine, _handle, _reel, _line, _use, _remarks, _guides, _asMeasured, _from })
            command.Add(option);
    }

    public bool GivesName(ParseResult parsed) => parsed.GetValue(_name) is not null || parsed.GetValue(_from) is not null;

    /// <summary>Whether the guides as built are to be taken from a photo.</summary>
    /// <exception cref="UsageException">They are given as well.</exception>
    public bool AsMeasured(ParseResult parsed) => parsed.GetValue(_asMeasured) switch
    {
        true when parsed.GetValue(_guides) is { Length: > 0 } => throw new UsageException("Give the guides with --guide or take them --as-measured, not both."),
        bool asked => asked,
    };

    /// <summary>What is said, over what is known; the very same value where nothing is said.</summary>
    /// <exception cref="Findings.InputException">The build's document or a guide cannot be read.</exception>
    public BuildFacts Read(ParseResult parsed, MeasureOptions measured, BuildFacts? known)
    {
        BuildFacts said = parsed.GetValue(_from) is { } file ? ReadFile(file, known) : known ?? new BuildFacts { Name = parsed.GetValue(_name) ?? "" };
        return said with
        {
            Name = parsed.GetValue(_name) ?? said.Name,
            Owner = parsed.GetValue(_owner) ?? said.Owner,
            Blank = parsed.GetValue(_blank) ?? said.Blank,
            BlankLengthMm = measured.BlankLengthMm ?? said.BlankLengthMm,
            Pieces = parsed.GetValue(_pieces) ?? said.Pieces,
            SpineMark = parsed.GetValue(_spine) ?? said.SpineMark,
            Handle = parsed.GetValue(_handle) ?? said.Handle,
            ReelClass = parsed.GetValue(_reel) ?? said.ReelClass,
            Line = parsed.GetValue(_line) ?? said.Line,
            Side = measured.Side ?? said.Side,
            Use = parsed.GetValue(_use) ?? said.Use,
            Remarks = parsed.GetValue(_remarks) ?? said.Remarks,
            Guides = parsed.GetValue(_guides) is { Length: > 0 } typed ? UsageException.Unless(TypedGuide.List(typed)) : said.Guides,
        };
    }

    private static BuildFacts ReadFile(string path, BuildFacts? known)
    {
        const long MaxBytes = 1_000_000;
        try
        {
            if (new FileInfo(path).Length > MaxBytes)
                throw new UsageException("The build's file is larger than 1 MB: that is no build's document.");
            return UsageException.Unless(BuildFactsJson.Read(File.ReadAllText(path), known));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new UsageException("The build's file cannot be read: check the name given with --from.");
        }
    }

    private static Option<string?> Text(string name, string help, string description) => new(name) { HelpName = help, Description = description };
}
