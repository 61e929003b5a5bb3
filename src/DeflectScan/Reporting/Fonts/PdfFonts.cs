using PdfSharp.Fonts;

namespace DeflectScan.Reporting.Fonts;

/// <summary>Gives PDFsharp the embedded typeface, whatever fonts the machine has.</summary>
public sealed class PdfFonts : IFontResolver
{
    private const string RegularFace = "deflectscan-regular";
    private const string BoldFace = "deflectscan-bold";
    private static readonly Lock Gate = new();

    private PdfFonts()
    {
    }

    /// <summary>Registers the resolver, once a process; call it before making a PDF document.</summary>
    public static void Register()
    {
        lock (Gate)
        {
            GlobalFontSettings.FontResolver ??= new PdfFonts();
        }
    }

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? BoldFace : RegularFace);

    public byte[]? GetFont(string faceName) => faceName == BoldFace ? EmbeddedFont.Bold : EmbeddedFont.Regular;
}
