namespace DeflectScan.Web.Storing;

/// <summary>A photo as it came, and what is kept of it.</summary>
/// <param name="Id">First 16 hex digits of the hash: its place in the page's addresses.</param>
/// <param name="Name">File name, cleaned (<see cref="FileNames"/>); untrusted text.</param>
/// <param name="Sha256">Hash of the original bytes, 64 lower-case hex digits.</param>
/// <param name="Bytes">Size of the original.</param>
/// <param name="ReceivedAt">When it was acknowledged, UTC.</param>
/// <param name="IsAside">Set aside by a person: kept, but out of the list.</param>
/// <param name="ClassId">The class that it was sent to, with which it goes; null for a photo of the bench.</param>
internal sealed record StoredPhoto(string Id, string Name, string Sha256, long Bytes, DateTimeOffset ReceivedAt, bool IsAside, string? ClassId = null);
