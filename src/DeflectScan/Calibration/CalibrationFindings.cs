using DeflectScan.Calibration.Cards;
using DeflectScan.Findings;

namespace DeflectScan.Calibration;

/// <summary>What the calibration has to say to the person, one sentence each.</summary>
internal static class CalibrationFindings
{
    public static Finding NoCard() => Finding.Refuse(
        FindingCode.CardMissing,
        "No scale card was found: print a card, stand it in the plane of the rod so that all of it shows, and take the photo again.");

    public static Finding CardHopeless(CardSighting card, CalibrationOptions options) => Finding.Refuse(
        FindingCode.CardTooSmall,
        $"Card {card.Letter} is too small in the picture to measure from (a square is {card.SquarePx:0.0} px, {options.HopelessSquarePx:0} are needed): go closer or use the camera's full resolution.");

    public static Finding CardUnreadable(CardSighting card) => Finding.Refuse(
        FindingCode.CardTooSmall,
        $"Card {card.Letter} cannot be measured from: take the photo again with the whole card free, flat and in focus.");

    public static Finding NoCommonPlane() => Finding.Refuse(
        FindingCode.CardsDisagree,
        "The scale cards stand nowhere near one plane: stand each flat in the plane of the rod, or leave only one in the picture, and take the photo again.");

    public static Finding OffPlane(Coplanarity result) => (result.Verdict, result.Card) switch
    {
        (Coplanarity.Kind.Slightly, _) => Finding.Note(
            FindingCode.CardsDisagree,
            $"The scale cards are a little out of one plane (by a few mm or about {result.LeanDeg:0.0} degrees), which the uncertainty allows for: set them flatter for surer figures."),
        (_, { } card) => Finding.Review(
            FindingCode.CardOffPlane,
            $"Card {card.Letter} does not stand in the plane of the others (by about {result.HeightMm:0} mm and {result.LeanDeg:0} degrees) and was left out: stand it flat in the plane of the rod and take the photo again."),
        _ => Finding.Review(
            FindingCode.CardsDisagree,
            "The scale cards do not stand in one plane: check that each stands flat in the plane of the rod, unbent, and take the photo again."),
    };

    public static Finding LensUnknown() => Finding.Note(
        FindingCode.LensUnknown,
        "The photo does not say which lens took it, so figures far from the cards are less sure: send the camera's own file, or give a lens profile.");

    public static Finding PhotoCut() => Finding.Note(
        FindingCode.LensUnknown,
        "The photo has a shape that cameras do not write, so it is taken for a cut-out, and figures far from the cards are less sure: use the whole photo as the camera wrote it.");

    public static Finding LensContradicted(string source) => Finding.Note(
        FindingCode.LensUnknown,
        source switch
        {
            "exif" => "The cards do not fit the lens that the photo states, so that was left aside: use the whole photo as the camera wrote it, not a cut-out, or give a lens profile.",
            "none" => "The cards show a lens of strong distortion, which makes figures far from them less sure: give a lens profile, or use the camera's normal lens.",
            _ => $"The cards do not fit the lens profile {source}, so it was left aside: use the whole photo as the camera wrote it, or the profile of its lens and zoom.",
        });

    /// <summary>What the solution itself shows: small cards, a doubtful leaning, an unsure scale, a strong tilt.</summary>
    public static IEnumerable<Finding> On(PlaneSolution solution, bool leansEitherWay, bool cardsApart, CalibrationOptions options)
    {
        foreach (SolvedCard card in solution.Cards.Where(c => c.SquarePx < options.SmallSquarePx))
        {
            yield return Finding.Review(
                FindingCode.CardTooSmall,
                $"Card {card.Letter} is small in the picture (a square is {card.SquarePx:0.0} px): go closer or use the camera's full resolution.");
        }

        if (leansEitherWay || (solution.ScaleUncertaintyPercent > options.UnsureScalePercent && !cardsApart))
        {
            yield return Finding.Review(
                FindingCode.CardTooSmall,
                $"The cards fix the scale only to {solution.ScaleUncertaintyPercent:0.0} %: go closer, or stand a second card near the rod's other end.");
        }

        if (solution.TiltDeg > options.TiltNoteDeg)
        {
            string message = $"The camera looks at the rod's plane {solution.TiltDeg:0} degrees off square: stand straight before the middle of the rod.";
            yield return solution.TiltDeg > options.TiltReviewDeg
                ? Finding.Review(FindingCode.TiltLarge, message)
                : Finding.Note(FindingCode.TiltLarge, message);
        }
    }
}
