namespace DeflectScan.Findings;

/// <summary>What a stage found that a person should know: the codes of the measurement document.</summary>
public enum FindingCode
{
    CardMissing,
    CardTooSmall,
    CardOffPlane,
    CardsDisagree,
    LensUnknown,
    TiltLarge,
    Blurred,
    LowResolution,
    LowContrast,
    RodNotFound,
    TipOutsideFrame,
    ButtOutsideFrame,
    LineNotSeen,
    GuidesUncertain,
    BendExcessive,
    BendTooSmall,
    FileUnreadable,
    FileTooLarge,
}

/// <summary>How much a finding weighs on the measurement's status.</summary>
public enum Severity
{
    /// <summary>Worth knowing; every figure still stands within its uncertainty.</summary>
    Note,

    /// <summary>A person should look before trusting a figure.</summary>
    Review,

    /// <summary>No figures can be given.</summary>
    Refusal,
}
