using DeflectScan.Findings;
using DeflectScan.Mechanics;
using DeflectScan.Mechanics.Stiffness;

namespace DeflectScan.Bending;

/// <summary>What the command on the blank says: one blank, or two beside each other.</summary>
public sealed record BlanksReport(IReadOnlyList<BlankFigures> Blanks, BlanksCompared? SecondOverFirst, IReadOnlyList<string> Cautions);

/// <summary>One blank, or two beside each other, with their profiles.</summary>
/// <param name="Report">What is said of them.</param>
/// <param name="Profiles">Each at even steps, fine enough to draw.</param>
public sealed record BlanksStudy(BlanksReport Report, IReadOnlyList<BlankFigures> Profiles)
{
    /// <summary>Even steps of a profile.</summary>
    private const int Steps = 80;

    /// <summary>The figures of one or two blanks, or the refusal of the first that has none.</summary>
    /// <param name="blanks">What each is called, and its stiffness.</param>
    /// <param name="stationsMm">Stations from the tip; null for twenty even steps.</param>
    public static Outcome<BlanksStudy> Of(IReadOnlyList<(string Name, Outcome<StiffnessEstimate> Estimate)> blanks, IReadOnlyList<double>? stationsMm)
    {
        List<BlankFigures> figures = [];
        List<BlankFigures> profiles = [];
        List<Finding> findings = [];
        foreach ((string name, Outcome<StiffnessEstimate> estimate) in blanks)
        {
            Outcome<BlankFigures> table = BlankFigures.Of(name, estimate, stationsMm);
            Outcome<BlankFigures> profile = BlankFigures.Of(name, estimate, estimate.Value is { } e ? [.. Enumerable.Range(0, Steps + 1).Select(i => e.LengthMm * i / Steps)] : null, []);
            if (table.Value is null || profile.Value is null)
                return Outcome<BlanksStudy>.Refused(table.Value is null ? table.Findings : profile.Findings);
            figures.Add(table.Value);
            profiles.Add(profile.Value);
            findings.AddRange(table.Findings);
        }

        BlanksCompared? compared = blanks.Count == 2 ? BlanksCompared.Of(blanks[0].Estimate.Value!, blanks[1].Estimate.Value!).Value : null;
        return Outcome<BlanksStudy>.Of(new BlanksStudy(new BlanksReport(figures, compared, BendLimits.Practice), profiles), findings);
    }
}
