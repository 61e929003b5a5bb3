namespace DeflectScan.Scenes.Proofs;

/// <summary>What is put wrong in a simulated proof.</summary>
public enum ProofFault
{
    None,

    /// <summary>The cards' print is 1.5 % off, either way.</summary>
    PrintScale,

    /// <summary>One card, either, stands 12 mm off the rod's plane, either way.</summary>
    CardOff,

    /// <summary>One taped distance has another digit of tens or hundreds of mm.</summary>
    TensDigit,

    /// <summary>One taped distance has another digit of mm, which may be hard to see.</summary>
    UnitsDigit,

    /// <summary>The photo counts a guide twice: a second ring 8 to 25 mm beside it.</summary>
    CountedTwiceInPhoto,

    /// <summary>The person counts a guide twice: those beyond it have a number too many.</summary>
    CountedTwiceAtRod,
}
