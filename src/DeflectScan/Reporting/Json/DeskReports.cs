using DeflectScan.Layout.Start;

namespace DeflectScan.Reporting.Json;

/// <summary>A layout to begin with, as <c>plan --json</c> prints it.</summary>
/// <param name="Input">What it was worked out from.</param>
/// <param name="Guides">From the reel to the tip-top.</param>
/// <param name="Spool">Lip diameter and axis height as used; none with a turning spool.</param>
/// <param name="LeastBore">The hole that every ring must have, in mm.</param>
/// <param name="Count">How many guides, the tip-top not counted.</param>
public sealed record PlanReport(StartInput Input, IReadOnlyList<StartGuide> Guides, IReadOnlyList<Reasoned> Spool, Reasoned LeastBore, Reasoned Count)
{
    public static PlanReport Of(StartInput input, StartLayout layout) => new(input, layout.Guides, layout.Spool, layout.LeastBore, layout.Count);
}

/// <summary>The next move after test casts, as <c>testcast --json</c> prints it.</summary>
/// <param name="Casts">How many casts the notes hold.</param>
/// <param name="Guide">Which guide to move, counted from 1; null: none.</param>
/// <param name="TowardTipMm">By how much; negative: toward the reel.</param>
/// <param name="Reason">Why, in a sentence.</param>
/// <param name="Basis">What the move rests on.</param>
public sealed record TestCastReport(int Casts, int? Guide, double TowardTipMm, string Reason, Grounds Basis)
{
    public static TestCastReport Of(CastNotes notes, TestCastMove move) => new(notes.Casts.Count, move.Guide, move.TowardTipMm, move.Reason, move.Basis);
}

/// <summary>A layout carried over to another blank, as <c>carry --json</c> prints it.</summary>
/// <param name="Reduction">How many guides from the reel kept their distance from it.</param>
/// <param name="Method">How the running guides were placed.</param>
/// <param name="Says">The method in a sentence.</param>
/// <param name="FromReelMm">Stations from the reel's front, the tip-top last.</param>
/// <param name="FromTipMm">The same from the tip.</param>
public sealed record CarryReport(int Reduction, CarryMethod Method, string Says, IReadOnlyList<double> FromReelMm, IReadOnlyList<double> FromTipMm)
{
    public static CarryReport Of(int reduction, CarriedLayout layout) => new(reduction, layout.Method, layout.Says, layout.FromReelMm, layout.FromTipMm);
}

/// <summary>The members of a file of <see cref="CastNotes"/>.</summary>
internal sealed record CastNotesMembers(string Title, IReadOnlyList<CastMembers> Casts)
{
    public static CastNotesMembers Of(CastNotes notes) =>
        new(notes.Title, [.. notes.Casts.Select(c => new CastMembers(CastNotesJson.Spell(c.Seen), c.FirstGuideFromReelMm, c.Date.ToString("yyyy-MM-dd"), c.Remark))]);
}

/// <summary>One cast of them.</summary>
internal sealed record CastMembers(string Seen, double? FirstGuideFromReelMm, string Date, string? Remark);
