namespace DeflectScan.Desk;

/// <summary>What a person should know about a layout that was judged and not photographed.</summary>
internal static class DeskNotes
{
    public static IReadOnlyList<string> Of(MeasuredLayout rod, JudgedLayout after)
    {
        List<string> notes = ["The bend stays as measured while guides move; another load bends the blank otherwise."];
        if (rod.Measurement.Status == MeasurementStatus.NeedsReview)
            notes.Add("The measurement needs review: look at its warnings before trusting these figures.");
        JudgedGuide[] steep = [.. after.Guides.Where(g => !g.IsTip && g.LineAngleDeg < 0)];
        foreach (JudgedGuide g in steep)
        {
            // The line pulls the other way there: it would leave the rim that its height was measured at.
            notes.Add(g.LineAngleDeg < -(g.LineAngleUncertaintyDeg ?? 0)
                ? $"At guide {g.Guide} the line would turn the other way ({g.LineAngleDeg:0.0}°): it would lie at the other rim of the ring, and the gaps beside it would differ by the ring's hole."
                : $"At guide {g.Guide} the line would run straight: it may lie at either rim of the ring.");
        }

        foreach (JudgedPair p in after.Pairs.Where(p => p.TouchesBlank || p.MayTouch))
        {
            string pair = $"Between guide {p.From} and {(p.To == after.Guides.Count ? "the tip-top" : $"guide {p.To}")}";
            notes.Add(p.TouchesBlank && !p.MayTouch ? $"{pair} the line would lie on the blank." : $"{pair} the line may touch the blank: its clearance is no more than its uncertainty.");
        }

        return notes;
    }
}
