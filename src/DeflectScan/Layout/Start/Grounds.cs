namespace DeflectScan.Layout.Start;

/// <summary>What a planned value rests on.</summary>
public enum Grounds
{
    /// <summary>Given by the builder.</summary>
    Given,

    /// <summary>Follows from stated geometry.</summary>
    Geometry,

    /// <summary>Common practice, no source.</summary>
    CommonPractice,

    /// <summary>Our own reading: neither measured nor common practice.</summary>
    Judgement,
}

/// <summary>A value with what it rests on.</summary>
/// <param name="Value">mm unless its name says otherwise.</param>
/// <param name="Basis">What it rests on.</param>
/// <param name="Why">One plain sentence.</param>
public sealed record Reasoned(double Value, Grounds Basis, string Why);
