using System.CommandLine;
using DeflectScan.Cli.Running;
using DeflectScan.Geometry;
using DeflectScan.Tracing;

namespace DeflectScan.Cli.Options;

/// <summary>What a person may tell a measurement on the command line.</summary>
internal sealed class MeasureFlags
{
    private readonly Option<int?> _guides = new("--guides") { CustomParser = NumberText.Whole, HelpName = "N", Description = "How many guides stand on the blank, the tip-top not counted." };
    private readonly Option<double?> _length = new("--length") { CustomParser = NumberText.LengthMm(500, 6000), HelpName = "LENGTH", Description = "Length of the blank, by tape, as 2134mm or 7ft; checks the scale." };
    private readonly Option<string?> _side = new("--side") { HelpName = "inside|outside", Description = "Side of the bend that the guides stand on." };
    private readonly Option<string?> _marks = new("--marks") { HelpName = "FILE.json", Description = "Points that a person placed on the photo." };
    private readonly Option<double?> _fromReel = new("--from-reel") { CustomParser = NumberText.LengthMm(100, 3000), HelpName = "LENGTH", Description = "Taped distance from the reel's front to the guide nearest it, in place of what the photo says: 530mm, 21in." };
    private readonly Option<int?> _hold = new("--hold") { CustomParser = NumberText.Whole, HelpName = "N", Description = "Guides, from the reel, that the suggestion leaves where they are. [default: 3 inside, 1 outside]" };
    private readonly Option<(double Value, double PlusMinus)?> _cardScale = new("--card-scale")
    {
        CustomParser = MeasureText.CardScale, HelpName = "X[±U]", Description = "Measured size of the printed card pattern over its nominal size, and how well it is known (0.985±0.001). [default: 1]",
    };
    private readonly Option<double?> _cardOff = new("--card-off") { CustomParser = MeasureText.Millimetres, HelpName = "3mm", Description = "How far each card may stand off the rod's plane, either way. [default: 2mm; one card alone by hand, some 8 mm and 1 degree]" };
    private readonly Option<double?> _cardBend = new("--card-bend") { CustomParser = MeasureText.Millimetres, HelpName = "1mm", Description = "How far a card's middle may stand out over its ends. [default: 0.5mm]" };
    private readonly Option<TapedDistance[]> _taped = new("--taped")
    {
        CustomParser = MeasureText.Taped, HelpName = "2-5=612mm±1", Description = "Taped distance along the blank between two guides, counted from the reel (or tip); may be given more than once.", AllowMultipleArgumentsPerToken = false,
    };
    private readonly Option<double?> _pull = new("--pull-direction")
    {
        CustomParser = NumberText.Decimal, HelpName = "DEG", Description = "Where the cord pulls the tip as the photo shows it: 0 right, -90 straight down. [default: from the photo]",
    };
    private readonly Option<double?> _load = new("--load") { CustomParser = NumberText.Force, HelpName = "18.5N|4.2lb|1.9kg", Description = "The cord's load, read from a scale. Load no further than the maker's rating, the tip no further than 90 degrees to the butt." };
    private readonly Option<bool> _atRest = new("--at-rest") { Description = "The photo shows the rod unloaded: measure the blank alone, for the curve that it has by itself (see bend --rest)." };
    private readonly Option<double?> _timeLimit = new("--time-limit") { CustomParser = NumberText.Decimal, HelpName = "S", Description = "Seconds after which a measurement is given up. [default: 120]" };
    private readonly Option<string> _units;
    private readonly Option<string?> _lens = new("--lens") { HelpName = "FILE", Description = "Lens profile to use. [default: one of the photo's camera and zoom among ./calibration and your own, else EXIF]" };

    public MeasureFlags(Command command, Terminal terminal)
    {
        _units = UnitOption.Make(terminal);
        _side.AcceptOnlyFromAmong("inside", "outside");
        foreach (Option option in new Option[] { _guides, _length, _side, _marks, _fromReel, _hold, _cardScale, _cardOff, _cardBend, _taped, _timeLimit, _pull, _load, _atRest, _units, _lens })
            command.Add(option);
    }

    /// <exception cref="UsageException">A value out of range, or a file that cannot be read.</exception>
    public MeasureOptions Read(ParseResult parsed)
    {
        MeasureOptions options = new()
        {
            GuideCount = parsed.GetValue(_guides),
            BlankLengthMm = parsed.GetValue(_length),
            Side = parsed.GetValue(_side) switch { "inside" => BendSide.Inside, "outside" => BendSide.Outside, _ => null },
            Marks = parsed.GetValue(_marks) is { } file ? ReadMarks(file) : Marks.None,
            FirstGuideFromReelMm = parsed.GetValue(_fromReel),
            HoldGuides = parsed.GetValue(_hold),
            CardScale = parsed.GetValue(_cardScale)?.Value ?? 1,
            CardScalePlusMinus = parsed.GetValue(_cardScale)?.PlusMinus ?? 0,
            CardOffMm = parsed.GetValue(_cardOff),
            CardBendMm = parsed.GetValue(_cardBend) ?? MeasureOptions.Default.CardBendMm,
            Taped = parsed.GetValue(_taped) is { Length: > 0 } taped ? taped : MeasureOptions.Default.Taped,
            PullDirectionDeg = parsed.GetValue(_pull),
            LoadN = parsed.GetValue(_load),
            AtRest = parsed.GetValue(_atRest),
            Units = UnitOption.Of(parsed, _units),
            LensFile = parsed.GetValue(_lens),
            LensFolders = LensFolders.All,
            TimeLimit = parsed.GetValue(_timeLimit) is { } seconds ? TimeSpan.FromSeconds(Math.Clamp(seconds, 0, 1e6)) : MeasureOptions.Default.TimeLimit,
        };
        if (options.LensFile is { } lens && !File.Exists(lens))
            throw new UsageException("The lens profile is not there: check the name given with --lens.");
        return options.FirstProblem() is { } problem ? throw new UsageException(problem) : options;
    }

    public LengthUnit Unit(ParseResult parsed) => UnitOption.Of(parsed, _units);

    private static Marks ReadMarks(string path)
    {
        const long MaxBytes = 1_000_000;
        try
        {
            if (new FileInfo(path).Length > MaxBytes)
                throw new UsageException("The marks file is larger than 1 MB: give one with at most 1000 points a list.");
            return UsageException.Unless(Marks.Parse(File.ReadAllText(path)));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new UsageException("The marks file cannot be read: check the name given with --marks.");
        }
    }
}
