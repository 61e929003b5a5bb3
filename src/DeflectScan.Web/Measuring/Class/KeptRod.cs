using DeflectScan.Teaching;

namespace DeflectScan.Web.Measuring;

/// <summary>What a class makes of a measured photo, kept so that a board answers at once.</summary>
/// <param name="Key">The marks that the photo was measured with.</param>
/// <param name="Rod">The rod, still without a student's name.</param>
/// <param name="Advice">What its student is told.</param>
internal sealed record KeptRod(string Key, ClassRod Rod, RodAdvice Advice);
