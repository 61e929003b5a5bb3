namespace DeflectScan.Records.Checking;

/// <summary>One thing that is not what was written.</summary>
/// <param name="Where">The file, and the page or row in it.</param>
/// <param name="What">What is wrong with it, in a few words.</param>
/// <param name="Recovery">What is still whole and what to do, in one sentence.</param>
public sealed record Damage(string Where, string What, string Recovery);

/// <summary>What reading every file and row of an archive showed.</summary>
/// <param name="Damages">Empty: everything is what was written.</param>
/// <param name="Notes">Worth knowing, and no damage.</param>
/// <param name="Builds">Builds read.</param>
/// <param name="Measurements">Measurements read.</param>
/// <param name="Photos">Photos read.</param>
/// <param name="Bytes">Bytes read from photos and database.</param>
public sealed record CheckReport(IReadOnlyList<Damage> Damages, IReadOnlyList<string> Notes, int Builds, int Measurements, int Photos, long Bytes)
{
    public bool IsClean => Damages.Count == 0;
}
