using DeflectScan.Findings;

namespace DeflectScan.Measuring;

/// <summary>Collects what the stages found, in order, each finding once, and says what it means for the status.</summary>
internal sealed class FindingLedger
{
    private readonly List<Finding> _findings = [];

    public IReadOnlyList<Finding> Findings => _findings;

    public MeasurementStatus Status =>
        _findings.Any(f => f.Severity == Severity.Refusal) ? MeasurementStatus.Refused
        : _findings.Any(f => f.Severity == Severity.Review) ? MeasurementStatus.NeedsReview
        : MeasurementStatus.Ok;

    public void Add(params IEnumerable<Finding> findings)
    {
        foreach (Finding f in findings)
        {
            if (!_findings.Contains(f))
                _findings.Add(f);
        }
    }

    /// <summary>The stage's value; null when it refused. Its findings are kept either way.</summary>
    public T? Take<T>(Outcome<T> outcome)
        where T : class
    {
        Add(outcome.Findings);
        return outcome.Value;
    }
}
