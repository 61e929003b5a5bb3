using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Measuring.Prints;
using DeflectScan.Photos;

namespace DeflectScan.Checking;

/// <summary>What each thing that was seen means, in plain words.</summary>
internal static class CheckItems
{
    private static readonly FindingCode[] OfTheCards = [FindingCode.CardTooSmall, FindingCode.CardOffPlane, FindingCode.CardsDisagree];

    /// <summary>What the reduced picture cannot judge.</summary>
    private static readonly FindingCode[] NotFromReduced = [FindingCode.Blurred, FindingCode.LowResolution, FindingCode.LowContrast];

    public static CheckItem File(Finding refusal) => new("file", CheckVerdict.Useless, refusal.Code, "The file cannot be used.", refusal.Message);

    public static CheckItem Cards(Finding refusal) => new("cards", CheckVerdict.Useless, refusal.Code, "The photo cannot be scaled.", refusal.Message);

    public static IEnumerable<CheckItem> Plane(PlaneSolution plane, IReadOnlyList<Finding> findings, CheckOptions options)
    {
        int count = plane.Cards.Count;
        string letters = string.Join(", ", plane.Cards.Select(c => c.Letter));
        Finding? wrong = findings.Where(f => OfTheCards.Contains(f.Code)).MaxBy(f => f.Severity);
        double smallest = plane.Cards.Min(c => c.SquarePx);
        string seen = $"{(count == 1 ? "Card" : "Cards")} {letters}; the smallest square is {smallest:0} px.";
        yield return wrong is not null && (wrong.Severity > Severity.Note || count > 1)
                ? new("cards", CheckVerdict.Doubtful, wrong.Code, seen, wrong.Message, count, "cards")
            : count == 1
                ? new("cards", CheckVerdict.Doubtful, FindingCode.CardOffPlane, seen, "Stand a second card near the rod's other end: one alone cannot show that it stands off the rod's plane.", count, "cards")
            : smallest < options.SmallSquarePx
                ? new("cards", CheckVerdict.Doubtful, FindingCode.CardTooSmall, seen, "Go closer or use the camera's full resolution: the cards are small in the picture.", count, "cards")
            : new("cards", CheckVerdict.Good, null, seen, "", count, "cards");

        string tilt = $"The camera looks at the rod's plane {plane.TiltDeg:0} degrees off square.";
        yield return plane.TiltDeg > options.TiltDeg
            ? new("tilt", CheckVerdict.Doubtful, FindingCode.TiltLarge, tilt, "Stand straight before the middle of the rod, at its height.", plane.TiltDeg, "deg")
            : new("tilt", CheckVerdict.Good, null, tilt, "", plane.TiltDeg, "deg");

        yield return findings.FirstOrDefault(f => f.Code == FindingCode.LensUnknown) is { } lens
            ? new("lens", CheckVerdict.Doubtful, lens.Code, "The lens is not known.", lens.Message)
            : new("lens", CheckVerdict.Good, null, "The photo says which lens took it.", "");
    }

    public static IEnumerable<CheckItem> Print(IReadOnlyList<CardLook> looks, CheckOptions options)
    {
        double blur = looks.Max(l => l.BlurPx);
        string sharp = $"Edges of the cards are {blur:0.0} px soft (a sharp photo has 0.5 to 0.8).";
        yield return blur <= options.BlurPx
            ? new("sharpness", CheckVerdict.Good, null, sharp, "", blur, "px")
            : new("sharpness", blur > options.HopelessBlurPx ? CheckVerdict.Useless : CheckVerdict.Doubtful, FindingCode.Blurred, sharp,
                "Hold the camera still or put it on a stand, tap on the rod to focus, give more light.", blur, "px");

        double contrast = looks.Min(l => l.Contrast);
        bool burnt = looks.Any(l => l.White >= options.BurntWhite);
        string light = $"White and black of the cards differ by {contrast:0} of 255 grey levels.";
        yield return contrast < options.CardContrast
                ? new("light", CheckVerdict.Doubtful, FindingCode.LowContrast, light, "Give more light, or take away what glares on the cards.", contrast, "levels")
            : burnt
                ? new("light", CheckVerdict.Doubtful, FindingCode.LowContrast, "White of the cards is burnt out.", "Expose a little darker, or soften the light.", contrast, "levels")
            : new("light", CheckVerdict.Good, null, light, "", contrast, "levels");
    }

    /// <param name="findings">What the blank's tracing noticed.</param>
    /// <param name="fromReduced">It was traced in a reduced picture.</param>
    public static IEnumerable<CheckItem> Rod(IReadOnlyList<Finding> findings, bool fromReduced)
    {
        Finding[] told = [.. findings.Where(f => !NotFromReduced.Contains(f.Code) || (!fromReduced && f.Severity > Severity.Note))];
        foreach (Finding f in told)
            yield return new("rod", f.Severity == Severity.Refusal ? CheckVerdict.Useless : CheckVerdict.Doubtful, f.Code, "The rod is not seen as it should be.", f.Message);
        if (told.Length == 0)
            yield return new("rod", CheckVerdict.Good, null, "The blank was found from its tip to the handle.", "");
    }

    public static IEnumerable<CheckItem> Blank(BlankLook look, PhotoInfo photo, CheckOptions options)
    {
        double share = 100 * look.StandsOutShare;
        string clear = $"The blank stands out from its background over {share:0} % of its length.";
        yield return look.StandsOutShare < options.BlankShare
            ? new("contrast", CheckVerdict.Doubtful, FindingCode.LowContrast, clear, "Use a plainer background that is lighter or darker than the blank.", share, "percent")
            : new("contrast", CheckVerdict.Good, null, clear, "", share, "percent");

        string tip = $"The blank's tip is {look.TipPx:0.0} px thick, {look.TipMmPerPx:0.00} mm a px.";
        yield return look.TipPx < options.TipPx || look.TipMmPerPx > options.CoarsestMmPerPx
            ? new("resolution", CheckVerdict.Doubtful, FindingCode.LowResolution, tip, "Fill the picture's width with the rod, or use the camera's full resolution.", look.TipPx, "px")
            : new("resolution", CheckVerdict.Good, null, tip, "", look.TipPx, "px");

        double margin = 100 * look.MarginPx / Math.Min(photo.WidthPx, photo.HeightPx);
        string room = $"Between the blank and the picture's border there is {margin:0.0} % of its shorter side.";
        yield return margin < 100 * options.LeastMargin
            ? new("room", CheckVerdict.Doubtful, FindingCode.TipOutsideFrame, room, "Step back a little: leave room round the whole bend.", margin, "percent")
            : new("room", CheckVerdict.Good, null, room, "", margin, "percent");
    }

    public static CheckItem Line(double seenShare, CheckOptions options)
    {
        double share = 100 * seenShare;
        string seen = $"A line shows on {share:0} % of its way along the blank.";
        return seenShare < options.LineShare
            ? new("line", CheckVerdict.Doubtful, FindingCode.LineNotSeen, seen, "Use a line that stands out from the wall, or light it from the side; see that it is taut.", share, "percent")
            : new("line", CheckVerdict.Good, null, seen, "", share, "percent");
    }
}
