using System.Text.Json;

namespace DeflectScan.Findings;

/// <summary>One thing found, with one plain sentence that says what to do about it.</summary>
/// <param name="Code">Which of the contract's codes.</param>
/// <param name="Severity">How it weighs on the status.</param>
/// <param name="Message">One plain sentence for a builder: what is wrong, where, and what to do.</param>
public sealed record Finding(FindingCode Code, Severity Severity, string Message)
{
    /// <summary>Where on the blank it is; empty where it is of the whole photo or rod. Two findings with the same places are the same.</summary>
    public IReadOnlyList<FindingPlace> Places { get; init; } = [];

    /// <summary>It is about which side of the bend the guides stand on, on which every figure hangs.</summary>
    public bool IsOfSide { get; init; }

    /// <summary>The code as the document spells it: "card-missing".</summary>
    public string CodeText => Spell(Code);

    public bool Equals(Finding? other) =>
        other is not null && (Code, Severity, Message, IsOfSide) == (other.Code, other.Severity, other.Message, other.IsOfSide) && Places.SequenceEqual(other.Places);

    public override int GetHashCode() => HashCode.Combine(Code, Severity, Message);

    public static Finding Note(FindingCode code, string message) => new(code, Severity.Note, message);

    public static Finding Review(FindingCode code, string message) => new(code, Severity.Review, message);

    public static Finding Refuse(FindingCode code, string message) => new(code, Severity.Refusal, message);

    public static string Spell(FindingCode code) => JsonNamingPolicy.KebabCaseLower.ConvertName(code.ToString());
}
