using System.Globalization;
using System.Security;
using System.Text;

namespace DeflectScan.Pictures;

/// <summary>A small SVG drawing: shapes and words on a light ground, legible without colour.</summary>
internal sealed class SvgPage(int width, int height)
{
    private readonly StringBuilder _body = new();

    public void Raw(FormattableString element) => _body.Append("  ").AppendLine(element.ToString(CultureInfo.InvariantCulture));

    public void Line(double x1, double y1, double x2, double y2, string stroke = "#101820", double w = 2, string? dash = null) =>
        Raw($"<line x1=\"{x1:0.#}\" y1=\"{y1:0.#}\" x2=\"{x2:0.#}\" y2=\"{y2:0.#}\" stroke=\"{stroke}\" stroke-width=\"{w}\"{Dash(dash)}/>");

    public void Path(string d, string stroke, double w, string? dash = null, string fill = "none") =>
        Raw($"<path d=\"{d}\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"{w}\" stroke-linecap=\"round\" stroke-linejoin=\"round\"{Dash(dash)}/>");

    public void Rect(double x, double y, double w, double h, string fill, string stroke = "none", double turn = 0) =>
        Raw($"<rect x=\"{x:0.#}\" y=\"{y:0.#}\" width=\"{w:0.#}\" height=\"{h:0.#}\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"1.5\" transform=\"rotate({turn:0.#} {x + (w / 2):0.#} {y + (h / 2):0.#})\"/>");

    public void Circle(double x, double y, double r, string fill, string stroke = "#101820") =>
        Raw($"<circle cx=\"{x:0.#}\" cy=\"{y:0.#}\" r=\"{r:0.#}\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"1.5\"/>");

    public void Text(double x, double y, string text, double size = 17, string anchor = "start", bool bold = false) =>
        Raw($"<text x=\"{x:0.#}\" y=\"{y:0.#}\" font-size=\"{size}\" text-anchor=\"{anchor}\" font-weight=\"{(bold ? "bold" : "normal")}\">{SecurityElement.Escape(text)}</text>");

    /// <summary>A number on the drawing; <see cref="Remarks"/> says what it stands for.</summary>
    public void Number(int number, double x, double y)
    {
        Circle(x, y, 13, "#101820", "#FFFFFF");
        Raw($"<text x=\"{x:0.#}\" y=\"{y + 6:0.#}\" font-size=\"17\" text-anchor=\"middle\" font-weight=\"bold\" fill=\"#FFFFFF\">{number}</text>");
    }

    /// <summary>The remarks that the numbers stand for, in two columns.</summary>
    public void Remarks(double y, params IReadOnlyList<string> remarks)
    {
        int rows = (remarks.Count + 1) / 2;
        for (int i = 0; i < remarks.Count; i++)
        {
            (double x, double at) = (46 + (460.0 * (i / rows)), y + (34 * (i % rows)));
            Number(i + 1, x, at);
            Text(x + 22, at + 6, remarks[i], 17);
        }
    }

    /// <summary>A scale card: a white board with a few dark squares, turned by some degrees.</summary>
    public void Card(double x, double y, double w, double turn)
    {
        double h = w * 1.4;
        Raw($"<g transform=\"rotate({turn:0.#} {x + (w / 2):0.#} {y + (h / 2):0.#})\">");
        Rect(x - 3, y - 3, w + 6, h + 6, "#FFFFFF", "#101820");
        for (int row = 0; row < 7; row++)
        {
            for (int column = row % 2; column < 5; column += 2)
                Rect(x + (column * w / 5), y + (row * h / 7), w / 5, h / 7, "#101820");
        }

        Raw($"</g>");
    }

    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"""
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" font-family="Noto Sans, sans-serif" fill="#101820">
          <rect width="{width}" height="{height}" fill="#F6F4EE"/>
        {_body}</svg>

        """);

    private static string Dash(string? dash) => dash is null ? "" : $" stroke-dasharray=\"{dash}\"";
}
