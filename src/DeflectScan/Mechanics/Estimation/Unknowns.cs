namespace DeflectScan.Mechanics.Estimation;

/// <summary>
/// Where the unknowns of a joint fit stand: coefficients of q, of the natural curvature, own weight over the reference force, then for
/// each photo the tip's angle, the pull's angle, ln(pull / reference force) and the tip's place x, y.
/// </summary>
internal sealed record Unknowns(int Profile, int Natural, int Cases)
{
    public const int PerCase = 5;

    public int Weight => Profile + Natural;

    /// <summary>Unknowns that all photos share.</summary>
    public int Shared => Weight + 1;

    public int Count => Shared + (PerCase * Cases);

    public int TipAngle(int photo) => Shared + (PerCase * photo);

    public int ForceAngle(int photo) => TipAngle(photo) + 1;

    public int LogForce(int photo) => TipAngle(photo) + 2;

    public int TipX(int photo) => TipAngle(photo) + 3;

    public int TipY(int photo) => TipAngle(photo) + 4;

    /// <summary>The place among all unknowns of column <paramref name="local"/> of one photo's rows.</summary>
    public int Global(int photo, int local) => local < Shared ? local : local + (PerCase * photo);
}
