namespace DeflectScan.Reporting.Fonts;

/// <summary>
/// The one typeface of every picture and sheet, carried inside the program so that output is the same on every machine.
/// TrueType, SIL Open Font License 1.1 (OFL.txt beside the files); figures are all of one width.
/// </summary>
public static class EmbeddedFont
{
    private static readonly Lazy<byte[]> RegularBytes = new(() => Load("NotoSans-Regular.ttf"));
    private static readonly Lazy<byte[]> BoldBytes = new(() => Load("NotoSans-Bold.ttf"));

    /// <summary>The family's name, as a PDF font resolver or an SVG asks for it.</summary>
    public const string Family = "Noto Sans";

    /// <summary>The regular face's file. Shared: read only.</summary>
    public static byte[] Regular => RegularBytes.Value;

    /// <summary>The bold face's file. Shared: read only.</summary>
    public static byte[] Bold => BoldBytes.Value;

    private static byte[] Load(string file)
    {
        using Stream stream = typeof(EmbeddedFont).Assembly.GetManifestResourceStream($"DeflectScan.Fonts.{file}")
            ?? throw new InvalidOperationException($"The font {file} is missing from the program: build it again from a clean checkout.");
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
