using DeflectScan.Desk;
using DeflectScan.Scenes;

namespace DeflectScan.Accuracy.Compare;

/// <summary>One predicted figure beside the truth, mm.</summary>
public sealed record PredictedFigure(string Figure, int From, double Predicted, double True, double Uncertainty)
{
    public double Error => Predicted - True;

    public bool IsCovered => Math.Abs(Error) <= Uncertainty;
}

/// <summary>
/// What the layout desk says about another layout of the same rod under the same load, from one measured photo, against that layout's truth: its
/// guides' stations are given, everything else comes from the measurement.
/// </summary>
public static class LayoutPrediction
{
    /// <summary>Whether two truths show the same blank bent in the same way: only then can one layout be predicted from the other.</summary>
    public static bool SameBend(Truth a, Truth b) =>
        a.Side == b.Side
        && a.Blank.Samples.Count == b.Blank.Samples.Count
        && a.Blank.Samples.Zip(b.Blank.Samples).All(p => Math.Abs(p.First.X - p.Second.X) < 0.01 && Math.Abs(p.First.Y - p.Second.Y) < 0.01);

    /// <summary>Gaps, bows and clearances of every pair of the other layout.</summary>
    public static IReadOnlyList<PredictedFigure> Of(Measurement measured, Truth other)
    {
        MeasuredLayout rod = MeasuredLayout.Of(measured).Value ?? throw new InvalidDataException("The measurement holds no layout.");
        WhatIfReport report = WhatIfReport.Of(rod, Changes(rod, other), null).OrDamaged();
        TruthInterval[] truth = [.. other.Intervals.Skip(1)];
        return
        [
            .. report.After.Pairs.SelectMany((p, i) => new PredictedFigure[]
            {
                new("gap", p.From, p.GapMm, truth[i].GapMm, p.GapUncertaintyMm),
                new("bow", p.From, p.BowMm, truth[i].BowMm, p.BowUncertaintyMm),
                new("clearance", p.From, p.ClearanceMm, truth[i].ClearanceMm, p.ClearanceUncertaintyMm),
            }),
        ];
    }

    /// <summary>Guides moved to the other layout's stations in order; those it has more are added, those it has fewer are taken off.</summary>
    private static List<GuideChange> Changes(MeasuredLayout rod, Truth other)
    {
        double[] stations = [.. other.Guides.Where(g => g.Kind != "tip").Select(g => g.FromTipMm)];
        int standing = rod.Rings.Count - 1;
        List<GuideChange> changes = [];
        for (int i = 0; i < Math.Max(standing, stations.Length); i++)
        {
            changes.Add(
                i >= stations.Length ? new TakeOff(i + 1)
                : i >= standing ? new AddAt(stations[i])
                : new MoveTo(i + 1, stations[i]));
        }

        return changes;
    }
}
