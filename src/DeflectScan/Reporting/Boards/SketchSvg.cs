using System.Globalization;
using System.Net;
using System.Text;

namespace DeflectScan.Reporting.Boards;

/// <summary>A sketch as an SVG element for a page whose style sheet has a class a role.</summary>
internal static class SketchSvg
{
    /// <param name="sketch">The drawing.</param>
    /// <param name="says">What it shows, for those who do not see it; null where the words beside it say it all.</param>
    public static string Write(Sketch sketch, string? says)
    {
        StringBuilder svg = new();
        svg.Append(CultureInfo.InvariantCulture, $"<svg viewBox=\"0 0 {sketch.Width:0.#} {sketch.Height:0.#}\" {(says is null ? "aria-hidden=\"true\"" : $"role=\"img\" aria-label=\"{E(says)}\"")}>");
        foreach (Mark mark in sketch.Marks)
            Append(svg, mark);
        return svg.Append("</svg>").ToString();
    }

    /// <summary>The rules that colour it: a stroke's and a fill's class a role.</summary>
    public static string Style() => string.Concat(Enum.GetValues<Tone>().Select(t => $".s{(int)t}{{stroke:{Sketch.Hex(t)};fill:none}}.f{(int)t}{{fill:{Sketch.Hex(t)};stroke:none}}"));

    private static void Append(StringBuilder svg, Mark mark)
    {
        switch (mark)
        {
            case StrokeMark s:
                string path = string.Concat(s.Points.Select((p, i) => string.Create(CultureInfo.InvariantCulture, $"{(i == 0 ? 'M' : 'L')}{p.X:0.0} {p.Y:0.0}")));
                svg.Append(CultureInfo.InvariantCulture, $"<path class=\"s{(int)s.Tone}\" stroke-width=\"{s.Width:0.##}\"{(s.IsDashed ? " stroke-dasharray=\"4 3\"" : "")} d=\"{path}\"/>");
                break;
            case BoxMark b:
                svg.Append(CultureInfo.InvariantCulture, $"<rect class=\"f{(int)b.Tone}\" x=\"{b.X:0.0}\" y=\"{b.Y:0.0}\" width=\"{b.Width:0.0}\" height=\"{b.Height:0.0}\"/>");
                break;
            case DotMark d:
                svg.Append(CultureInfo.InvariantCulture, $"<circle class=\"s{(int)d.Tone}\" stroke-width=\"{d.Width:0.##}\" cx=\"{d.X:0.0}\" cy=\"{d.Y:0.0}\" r=\"{d.Radius:0.0}\"{(d.Fill is { } fill ? $" style=\"fill:{Sketch.Hex(fill)}\"" : "")}/>");
                break;
            case WordsMark w:
                string anchor = w.Anchor switch { Anchor.Middle => " text-anchor=\"middle\"", Anchor.Right => " text-anchor=\"end\"", _ => "" };
                svg.Append(CultureInfo.InvariantCulture, $"<text class=\"f{(int)w.Tone}\" x=\"{w.X:0.0}\" y=\"{w.Y:0.0}\" font-size=\"{w.Size:0.#}\"{(w.IsBold ? " font-weight=\"700\"" : "")}{anchor}>{E(w.Text)}</text>");
                break;
        }
    }

    private static string E(string text) => WebUtility.HtmlEncode(text);
}
