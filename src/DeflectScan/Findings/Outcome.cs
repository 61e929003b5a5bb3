using System.Diagnostics.CodeAnalysis;

namespace DeflectScan.Findings;

/// <summary>
/// What a stage gives: a value with what was noticed on the way, or a refusal. An expected failure is a value, never an exception.
/// </summary>
/// <typeparam name="T">The stage's result.</typeparam>
public sealed class Outcome<T>
    where T : class
{
    private Outcome(T? value, IReadOnlyList<Finding> findings)
    {
        Value = value;
        Findings = findings;
    }

    /// <summary>The result; null exactly when refused.</summary>
    public T? Value { get; }

    /// <summary>Everything noticed; a refusal has at least one finding of severity Refusal.</summary>
    public IReadOnlyList<Finding> Findings { get; }

    [MemberNotNullWhen(false, nameof(Value))]
    public bool IsRefused => Value is null;

    /// <summary>The value of what this program wrote itself.</summary>
    /// <exception cref="InvalidDataException">It is refused, so what was written is damaged.</exception>
    public T OrDamaged() => Value ?? throw new InvalidDataException(Findings[0].Message);

    /// <summary>What the next stage makes of the value; a refusal stays one.</summary>
    public Outcome<TNext> Then<TNext>(Func<T, Outcome<TNext>> next)
        where TNext : class => IsRefused ? Outcome<TNext>.Refused(Findings) : next(Value);

    /// <summary>The same of a stage that cannot fail.</summary>
    public Outcome<TNext> Map<TNext>(Func<T, TNext> next)
        where TNext : class => Then(value => Outcome<TNext>.Of(next(value), Findings));

    public static Outcome<T> Of(T value, params IReadOnlyList<Finding> findings) => new(value, findings);

    public static Outcome<T> Refused(params IReadOnlyList<Finding> findings) =>
        findings.Any(f => f.Severity == Severity.Refusal)
            ? new(null, findings)
            : throw new ArgumentException("A refusal needs a finding that says why.", nameof(findings));

    public static Outcome<T> Refused(FindingCode code, string message) => Refused(Finding.Refuse(code, message));
}
