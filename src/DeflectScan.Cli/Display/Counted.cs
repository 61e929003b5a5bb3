namespace DeflectScan.Cli.Display;

/// <summary>How many of something, as a person writes it.</summary>
internal static class Counted
{
    /// <param name="count">How many.</param>
    /// <param name="what">What, of which there is one; an s makes it many.</param>
    public static string Of(int count, string what) => count == 1 ? $"1 {what}" : $"{count} {what}s";
}
