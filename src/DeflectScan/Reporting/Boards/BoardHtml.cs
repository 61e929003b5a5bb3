using System.Globalization;
using System.Net;
using System.Text;
using DeflectScan.Geometry;
using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Boards;

/// <summary>The board as one self-contained HTML file: no script, nothing fetched, figures as a table that a screen reader reads. All text is escaped.</summary>
public static class BoardHtml
{
    private const double StripWidth = 900;
    private const double RowHeight = 84;

    private const string Style = """
        *{box-sizing:border-box}body{font:16px/1.45 "Noto Sans",system-ui,sans-serif;font-variant-numeric:tabular-nums;color:#101820;background:#fff;margin:0;padding:20px 28px}
        h1{font-size:1.75rem;line-height:1.2;margin:0 0 .3rem;overflow-wrap:anywhere}h2{font-size:1.1rem;margin:1.2rem 0 .3rem}p{margin:.3rem 0}.quiet{color:#4a5763;font-size:.9375rem}
        .target{color:#0b7a63;font-weight:700}ul{margin:.4rem 0 1rem;padding-left:1.2rem}li{margin:.15rem 0}
        thead th:nth-child(-n+2){text-align:left}.scroll{overflow-x:auto}table{border-collapse:collapse;width:100%}th,td{padding:.3rem .6rem;text-align:right;vertical-align:middle;border-bottom:1px solid #c3ccd5;white-space:nowrap}
        thead th{font-weight:400;color:#4a5763;font-size:.9375rem;border-bottom:2px solid #101820;white-space:normal}tbody th{text-align:left;overflow-wrap:anywhere;white-space:normal;min-width:8rem}
        td.strip{width:60%;min-width:24rem;padding:2px 0}td.strip svg{display:block;width:100%;height:auto}.bow{font-weight:700}.over .bow{color:#8e0f4e}.kept .bow{color:#0b6b4f}
        .look td{color:#4a5763}.look .bow{color:#4a5763}.standing{display:block;font-size:.9375rem}.look .standing{color:#8a4b00}.none .standing{color:#a3162b}td.why{text-align:left;white-space:normal}
        svg{overflow:visible}svg text{font-family:"Noto Sans",system-ui,sans-serif}tbody tr:nth-child(odd){background:#f4f6f8}.care{border-left:5px solid #8a4b00;padding:.3rem 1rem;background:#f4f6f8;margin-top:1.2rem}
        @media(max-width:50rem){body{padding:12px}table,tbody,tr,th,td{display:block;width:100%}thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}tbody th{border:0;padding-bottom:0}td{display:flex;justify-content:space-between;border:0;padding:.1rem .6rem}td::before{content:attr(data-head);color:#4a5763}td.strip{min-width:0;width:100%}td.strip::before,td.why::before{content:none}tr{border-bottom:1px solid #c3ccd5;padding:.5rem 0}.ruler{display:none}}
        @page{size:landscape;margin:10mm}@media print{body{padding:0;font-size:11px;print-color-adjust:exact;-webkit-print-color-adjust:exact}tr{break-inside:avoid}}
        """;

    public static string Write(ClassReport report, LengthUnit unit = LengthUnit.Millimetres)
    {
        StripScale scale = StripScale.Of(report, StripWidth - 20, RowHeight - 8);
        StringBuilder html = new();
        html.Append("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">")
            .Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">")
            .Append($"<title>{E(report.Options.Title)}</title><style>{Style}{SketchSvg.Style()}</style></head><body><main>\n<h1>{E(report.Options.Title)}</h1>\n");
        html.Append(Target(report.Options, unit)).Append("<ul>");
        foreach (string sentence in report.StandsOut)
            html.Append($"<li>{E(UnitsInSentences.Of(sentence, unit))}</li>");
        html.Append("</ul>\n<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Rods\"><table><thead><tr><th scope=\"col\">Rod</th><th scope=\"col\">Straightened blank, reel to tip</th>");
        for (int i = 0; i < BoardColumns.Heads.Count; i++)
            html.Append($"<th scope=\"col\">{E(Head(i, unit))}</th>");
        html.Append("</tr></thead><tbody>\n");
        if (report.Reference is { Strip: not null } reference)
            Row(html, report, reference, scale, unit);
        foreach (ClassRod rod in report.Rods)
            Row(html, report, rod, scale, unit);
        html.Append("</tbody></table></div>\n").Append(CultureInfo.InvariantCulture, $"<p class=\"quiet\">{E(scale.Words)}{(report.Rods.Any(r => r.TargetMm is not null) ? " Dashed: the target." : "")}{(report.Reference?.Strip is null ? "" : " Grey dashes: the instructor's rod.")}</p>\n");
        if (report.Mean is { } mean)
            Mean(html, mean, unit);
        html.Append("<p class=\"care\">A loaded rod can break or let go: eye protection on, stay out of the cord's line. A measurement says how a layout looks under its load, not whether a rod is safe.</p>");
        return html.Append("</main></body></html>\n").ToString();
    }

    private static string Head(int i, LengthUnit unit) => $"{BoardColumns.Heads[i].Says}{(i < 4 ? $", {UnitsInSentences.Name(unit)}" : "")}";

    private static string Target(ClassOptions options, LengthUnit unit) => options switch
    {
        { TargetIsBest: true } => "<p class=\"target\">Target: the best that so many guides can do on each blank</p>",
        { TargetBowMm: { } mm } => $"<p class=\"target\">Target: largest running bow {UnitsInSentences.Bare(mm, unit)} {UnitsInSentences.Name(unit)}</p>",
        _ => "",
    };

    private static void Row(StringBuilder html, ClassReport report, ClassRod rod, StripScale scale, LengthUnit unit)
    {
        string kind = rod.Standing switch { RodStanding.LookFirst => "look", RodStanding.NoFigures => "none", _ => rod.KeepsTarget switch { true => "kept", false => "over", _ => "" } };
        string standing = BoardColumns.Standing(rod) is { } text ? $"<span class=\"standing\">{text}</span>" : "";
        string tries = rod.Photo.Tries > 1 ? $"<span class=\"quiet\">{rod.Photo.Tries} photos</span>" : "";
        html.Append($"<tr class=\"{kind}\"><th scope=\"row\">{E(rod.Name)}{standing}{tries}</th>");
        if (rod.Strip is not { } strip)
        {
            html.Append($"<td class=\"why\" colspan=\"{1 + BoardColumns.Heads.Count}\">{E(UnitsInSentences.Of(rod.Why ?? "", unit))}</td></tr>\n");
            return;
        }

        Sketch sketch = new(StripWidth, RowHeight);
        double baseline = 4 + scale.AboveUnits;
        if (report.Reference?.Strip is { } reference && rod.Photo != report.Reference.Photo)
            StripDrawing.DrawFaint(sketch, reference, scale, StripWidth - 8, baseline);
        StripDrawing.Draw(sketch, strip, scale, StripWidth - 8, baseline, rod.TargetMm);
        html.Append($"<td class=\"strip\">{SketchSvg.Write(sketch, $"The straightened blank of {rod.Name}")}{(rod.Why is { } why ? $"<p class=\"quiet why\">{E(UnitsInSentences.Of(why, unit))}</p>" : "")}</td>");
        IReadOnlyList<string> figures = BoardColumns.Of(rod, unit);
        for (int i = 0; i < figures.Count; i++)
            html.Append($"<td{(i == 0 ? " class=\"bow\"" : "")} data-head=\"{E(Head(i, unit))}\">{E(figures[i])}</td>");
        html.Append("</tr>\n");
    }

    private static void Mean(StringBuilder html, MeanLayout mean, LengthUnit unit)
    {
        html.Append(CultureInfo.InvariantCulture, $"<h2>Mean layout of {mean.Rods} rods with {mean.Guides} guides</h2><div class=\"scroll\"><table><thead><tr><th scope=\"col\">guide</th><th scope=\"col\">from the tip, {UnitsInSentences.Name(unit)}</th><th scope=\"col\">spread (standard deviation), {UnitsInSentences.Name(unit)}</th><th scope=\"col\">mean bow to the next guide, {UnitsInSentences.Name(unit)}</th></tr></thead><tbody>");
        for (int i = 0; i < mean.StationsMm.Count; i++)
        {
            string name = i == mean.StationsMm.Count - 1 ? "tip-top" : $"{i + 1}";
            string spread = mean.SpreadsMm[i] is { } s ? UnitsInSentences.Bare(s, unit) : "–";
            string bow = i < mean.BowsMm.Count ? UnitsInSentences.Bare(mean.BowsMm[i], unit) : "";
            html.Append($"<tr><th scope=\"row\">{name}</th><td data-head=\"from the tip\">{UnitsInSentences.Bare(mean.StationsMm[i], unit)}</td><td data-head=\"spread\">{spread}</td><td data-head=\"mean bow\">{bow}</td></tr>");
        }

        html.Append("</tbody></table></div>\n");
    }

    private static string E(string text) => WebUtility.HtmlEncode(text);
}
