namespace DeflectScan.Layout.Start;

/// <summary>What was seen or heard in a test cast.</summary>
public enum CastObservation
{
    /// <summary>Coils bunch at the first guide: seen.</summary>
    CoilsBunchSeen,

    /// <summary>Coils bunch at the first guide: heard, a rattle or hum.</summary>
    CoilsBunchHeard,

    /// <summary>The line slaps the blank short of the first guide.</summary>
    LineSlapsBlank,

    /// <summary>The line runs no straighter between the first and second guide than before the first.</summary>
    WavyAfterFirst,

    /// <summary>The line is not nearly straight between the second and third guide.</summary>
    WavyAfterSecond,

    /// <summary>The line is not straight after the third guide.</summary>
    WavyAfterThird,

    /// <summary>It runs as it should: straighter at every guide, straight after the third.</summary>
    RunsWell,
}

/// <summary>The next move after a test cast.</summary>
/// <param name="Guide">Guide to move, counted from 1 at the reel; null for none.</param>
/// <param name="TowardTipMm">By how much, positive towards the tip; 0 for none.</param>
/// <param name="Reason">One or two plain sentences.</param>
/// <param name="Basis">What the direction rests on.</param>
public sealed record TestCastMove(int? Guide, double TowardTipMm, string Reason, Grounds Basis);

/// <summary>
/// What was seen gives the next move. The directions for the first guide and how straight the line should run are common practice without a source.
/// Which way a later guide goes, and the size of a step, are our own judgement: half an inch, halved each time the direction turns round, as when closing in on a value.
/// </summary>
public static class TestCast
{
    private const double FirstStepMm = 12.7;
    private const double LastStepMm = 3;

    /// <summary>The next move.</summary>
    /// <param name="casts">What was seen in all test casts of this build in order, the latest last; at least one.</param>
    public static TestCastMove Next(IReadOnlyList<CastObservation> casts)
    {
        ArgumentOutOfRangeException.ThrowIfZero(casts.Count);
        double step = Step(casts);
        return casts[^1] switch
        {
            CastObservation.CoilsBunchSeen or CastObservation.CoilsBunchHeard when step >= LastStepMm => new(
                1, step, "Coils bunch at the first guide: it stands too near the reel, so move it out towards the tip.", Grounds.CommonPractice),
            CastObservation.LineSlapsBlank when step >= LastStepMm => new(
                1, -step, "The line slaps the blank short of the first guide: it stands too far out, so bring it back towards the reel.", Grounds.CommonPractice),
            CastObservation.CoilsBunchSeen or CastObservation.CoilsBunchHeard or CastObservation.LineSlapsBlank => new(
                null,
                0,
                "The first guide's place is closed in to a few millimetres and still not right: try a larger or higher first ring there.",
                Grounds.Judgement),
            CastObservation.WavyAfterFirst => Closer(
                2, "The line should run straighter between the first and second guide than before the first: bring the second one nearer to the first."),
            CastObservation.WavyAfterSecond => Closer(
                3, "The line should be nearly straight between the second and third guide: bring the third one nearer to the second."),
            CastObservation.WavyAfterThird => Closer(
                4, "The line should be straight after the third guide: bring the next one nearer to it, or take a smaller third ring."),
            _ => new(null, 0, "The line runs as it should: wrap the reduction guides where they stand.", Grounds.CommonPractice),
        };
    }

    private static TestCastMove Closer(int guide, string reason) => new(guide, -FirstStepMm, reason, Grounds.Judgement);

    private static double Step(IReadOnlyList<CastObservation> casts)
    {
        double step = FirstStepMm;
        int before = 0;
        foreach (CastObservation seen in casts)
        {
            int way = seen switch
            {
                CastObservation.CoilsBunchSeen or CastObservation.CoilsBunchHeard => 1,
                CastObservation.LineSlapsBlank => -1,
                _ => 0,
            };
            if (way == 0)
                continue;
            if (before != 0 && way != before)
                step /= 2;
            before = way;
        }

        return step;
    }
}
