using System.CommandLine;
using DeflectScan.Cli.Commands.Desk;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Records;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Keeping;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands.Records;

/// <summary>How a new layout is started from what was found.</summary>
internal sealed class StartFlags
{
    private readonly Option<bool> _start = new("--start") { Description = "Start a layout from the best build that has distances from the reel." };
    private readonly Option<double?> _reelToTip = new("--reel-to-tip") { CustomParser = NumberText.LengthMm(400, 6000), HelpName = "LENGTH", Description = "From the reel's front to the tip on the new rod. [default: as on the found one]" };
    private readonly Option<int?> _reduction = new("--reduction") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Guides from the reel that keep their distance from it. [default: 3 inside, 1 outside]" };
    private readonly Option<string?> _for = new("--for") { HelpName = "BUILD", Description = "The new build: its measured bend is used if there is one, and the layout is kept with it." };

    private readonly Option<string?> _save = new("--save") { HelpName = "FILE.json", Description = DeskOutput.SaveHelp };

    public StartFlags(Command command)
    {
        Outputs = new Outputs(command).With(_save, OutputFormat.Json);
        foreach (Option option in new Option[] { _start, _reelToTip, _reduction, _for, _save })
            command.Add(option);
    }

    /// <summary>What may be written.</summary>
    public Outputs Outputs { get; }

    /// <summary>The started layout, or null where none is asked for.</summary>
    public StartedLayout? Start(ParseResult parsed, ArchiveReader reader, IReadOnlyList<FoundBuild> found, string? wantedSide)
    {
        if (!parsed.GetValue(_start))
        {
            return parsed.GetValue(_for) is null && parsed.GetValue(_save) is null && parsed.GetValue(_reelToTip) is null && parsed.GetValue(_reduction) is null
                ? null
                : throw new UsageException("--for, --save, --reel-to-tip and --reduction go with --start.");
        }

        if (parsed.GetValue(_reelToTip) is <= 0 || parsed.GetValue(_reduction) is < 1 or > 20)
            throw new UsageException("The distance from reel to tip must be more than zero, --reduction from 1 to 20.");
        string? own = parsed.GetValue(_for) is { } reference ? reader.Resolve(reference) : null;
        return StartSearch.Start(reader, found, wantedSide, own, parsed.GetValue(_reelToTip), parsed.GetValue(_reduction));
    }

    /// <summary>Keeps the layout with the build that it is for, and in a file.</summary>
    public void Keep(ParseResult parsed, string folder, StartedLayout layout, Terminal terminal, OutputFiles files)
    {
        if (parsed.GetValue(_save) is { } file)
            DeskOutput.Save(terminal, files, file, layout.Sheet());
        if (parsed.GetValue(_for) is not { } reference)
            return;
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        string id = writer.Reader.Resolve(reference);
        StartSearch.Keep(writer, id, layout);
        terminal.Say($"Kept with \"{writer.Reader.Build(id)!.Facts.Name}\" as a layout that is considered.");
    }
}
