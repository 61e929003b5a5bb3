namespace DeflectScan.Cli.Display;

/// <summary>Of many photos each one's stages would only flicker: the count is what is told.</summary>
internal sealed class Quiet : IProgress<string>
{
    public static Quiet Instance { get; } = new();

    public void Report(string value)
    {
    }
}
