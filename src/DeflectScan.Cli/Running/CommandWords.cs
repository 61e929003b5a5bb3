using DeflectScan.Geometry;

namespace DeflectScan.Cli.Running;

/// <summary>
/// The library's sentences on the command line. They say what a person does, in words that serve on every face; what is typed for it here stands in
/// brackets behind those words. Words and not finding codes: one code asks now for a side, now for a number of guides.
/// </summary>
internal static class CommandWords
{
    /// <summary>What the library asks for, and what asks for it here.</summary>
    internal static readonly (string Asked, string Typed)[] All =
    [
        ("print a card", "deflectscan card"),
        ("calibrating the lens", "deflectscan lens"),
        ("Calibrate the lens", "deflectscan lens"),
        ("say how many inner corners it has", "--board"),
        ("say how close they stand", "--card-off 1mm"),
        ("a card scale", "--card-scale"),
        ("tape a distance", "--taped"),
        ("tape the first guide from the tip-top", "--taped 1-tip="),
        ("taped distance from the reel's front", "--from-reel"),
        ("the mark of the reel's front", "reel_front"),
        ("as a loaded rod", "without --at-rest"),
        ("as a rod at rest", "--at-rest"),
        ("allow more time", "--time-limit"),
        ("the right number", "--guides"),
        ("a mark there", "--marks, or the page"),
        ("say which and check the rings", "--side"),
        ("a station, a gap or a file of them", "--station, --gap, --readings"),
        ("give another folder", "--out"),
        ("may be replaced", "--force"),
        ("name their ring", "--ring"),
        ("taped distance from reel to tip", "--reel-to-tip"),
        ("fewer reduction guides", "--reduction"),
        ("give such a table", "--guide-table"),
        ("hold fewer guides", "--hold"),
        ("the number of guides, the largest bow and the largest gap", "--guides, --largest-bow, --largest-gap"),
        ("the load named", "--load"),
        ("the pull as a multiple of it", "--line-pull 1x"),
        ("the direction of the pull", "--pull-direction"),
        ("was not told", "--unseen"),
        ("leave that length out", "--unseen"),
        ("only the load was changed between the photos", "--untouched"),
        ("the clamp was left alone", "--untouched"),
        ("name the one that was", "--photo"),
        ("where the photo lies", "--photo"),
        ("the spool's own measures", "--spool-lip, --spool-height"),
        ("export what can be read", "deflectscan records export --salvage"),
        ("a repair", "deflectscan records verify --repair"),
        ("a check of the archive", "deflectscan records verify"),
        ("the list of builds", "deflectscan records list"),
        ("the build's record", "deflectscan records show"),
        ("give the archive another place", "--archive"),
        ("name the archive's folder", "--archive"),
        ("make a new archive", "deflectscan records init"),
        ("keep the photo with it first", "deflectscan records add PHOTO --build"),
        ("hold some against a photo", "deflectscan proof"),
        ("look at the kept proofs", "deflectscan records proof"),
        ("watch another folder", "--watch"),
        ("choose another port", "--port"),
    ];

    public static string Of(string sentence) => All.Aggregate(sentence, (said, word) => said.Replace(word.Asked, $"{word.Asked} ({word.Typed})", StringComparison.Ordinal));

    /// <summary>And its lengths in the unit that is shown.</summary>
    public static string Of(string sentence, LengthUnit unit) => UnitsInSentences.Of(Of(sentence), unit);
}
