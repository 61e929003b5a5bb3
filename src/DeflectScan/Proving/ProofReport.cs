namespace DeflectScan.Proving;

/// <summary>What readings by hand say of a photo's figures.</summary>
public enum ProofVerdict
{
    /// <summary>They differ by no more than both state.</summary>
    Agree,

    /// <summary>They contradict each other, or something explains them far better than chance.</summary>
    Disagree,

    /// <summary>The readings are too rough or too few to prove anything.</summary>
    TooRough,
}

/// <summary>One reading against the photo's figure; uncertainties are expanded, 95 %.</summary>
/// <param name="Reading">As read; of several readings of the same thing, their mean.</param>
/// <param name="PhotoMm">What the photo says.</param>
/// <param name="PhotoUncertaintyMm">Its uncertainty.</param>
public sealed record ComparedReading(HandReading Reading, double PhotoMm, double PhotoUncertaintyMm)
{
    /// <summary>
    /// The photo might be wrong by so many times what it states and E_n stay below 1: then the reading says more of the caliper than of the photo.
    /// </summary>
    public const double RoughFactor = 3;

    /// <summary>Reading minus photo.</summary>
    public double DifferenceMm => Reading.Mm - PhotoMm;

    /// <summary>E_n = |reading - photo| / sqrt(U1² + U2²), both expanded (ISO 13528, ISO/IEC 17043): above 1 in about 1 of 20 by chance.</summary>
    public double En => Math.Abs(DifferenceMm) / TogetherMm;

    public bool IsRough => TogetherMm > RoughFactor * PhotoUncertaintyMm;

    private double TogetherMm => Math.Sqrt((Reading.UncertaintyMm * Reading.UncertaintyMm) + (PhotoUncertaintyMm * PhotoUncertaintyMm));
}

/// <summary>A measurement held against readings by hand.</summary>
/// <param name="Readings">Each thing once.</param>
/// <param name="ChiSquare">Of all differences with their covariance; as many degrees of freedom as readings.</param>
/// <param name="Probability">Of so much or more by chance.</param>
/// <param name="Verdict">What that comes to.</param>
/// <param name="Causes">What would explain a contradiction, likeliest first; none where chance explains the readings better. A suspicion alone where not <see cref="IsSure"/>.</param>
/// <param name="ShowsScalePercent">A print scale so much off would have shown in at least 19 of 20 such proofs.</param>
public sealed record ProofReport(
    IReadOnlyList<ComparedReading> Readings, double ChiSquare, double Probability, ProofVerdict Verdict, IReadOnlyList<NamedCause> Causes, double ShowsScalePercent)
{
    /// <summary>
    /// Of two things that explain the readings, chance among them, the readings tell one from the other where they are so many times as probable with it:
    /// "positive" evidence begins there, less is "not worth more than a bare mention" (Kass and Raftery's scale, from memory).
    /// </summary>
    public const double TellsApart = 3;

    /// <summary>How many times as probable the readings are with one of the causes, whichever, as with none (marginal likelihoods).</summary>
    public double CauseRatio { get; init; }

    /// <summary>Whether the readings tell that something is wrong from chance; causes are suspected where they do not tell either from the other.</summary>
    public bool IsSure => CauseRatio >= TellsApart;

    /// <summary>The first cause and those that the readings do not tell from it.</summary>
    public IEnumerable<NamedCause> Alike => Causes.Where(c => c.Share * TellsApart > Causes[0].Share);

    /// <summary>Degrees of freedom.</summary>
    public int Freedom => Readings.Count;

    public double LargestEn => Readings.Max(r => r.En);

    /// <summary>The verdict in sentences, lengths in mm.</summary>
    public IReadOnlyList<string> Says => ProofWords.Of(this);
}
