namespace DeflectScan.Rooms.Tests;

/// <summary>
/// A room of the house: a namespace with those below it. The table in DEVELOPERS.md is written from here, and the compiled projects are held to it.
/// </summary>
/// <param name="Name">Its namespace, without the leading "DeflectScan.".</param>
/// <param name="Folder">Where it lies, as DEVELOPERS.md names it.</param>
/// <param name="Holds">What belongs into it.</param>
/// <param name="MayKnow">Other rooms that it may use.</param>
internal sealed record Room(string Name, string Folder, string Holds, params string[] MayKnow)
{
    /// <summary>The room of a namespace: its first part, "" for the root.</summary>
    public static string Of(string ns) => ns == "DeflectScan" ? "" : ns["DeflectScan.".Length..].Split('.')[0];

    public string Row => $"| {Folder} | {Holds} | {(MayKnow.Length == 0 ? "nothing of ours" : string.Join(", ", MayKnow.Select(n => n.Length == 0 ? "root" : n)))} |";
}
