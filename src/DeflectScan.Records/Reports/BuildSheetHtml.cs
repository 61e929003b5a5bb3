using DeflectScan.Reporting.Drawing;
using System.Net;
using System.Text;

namespace DeflectScan.Records.Reports;

/// <summary>Build sheets as one self-contained HTML file: pictures inside, no script, nothing fetched. All text is escaped.</summary>
public static class BuildSheetHtml
{
    private const string Style = """
        body{font:16px/1.45 "Noto Sans",system-ui,sans-serif;color:#101820;background:#fff;max-width:60rem;margin:2rem auto;padding:0 1rem}
        h1{font-size:1.7rem;line-height:1.25;margin:0 0 .8rem;overflow-wrap:anywhere}h2{font-size:1.1rem;margin:1.6rem 0 .4rem;overflow-wrap:anywhere}
        dl{display:grid;grid-template-columns:max-content 1fr;gap:.15rem 1.2rem;margin:0}dt{font-weight:600}dd{margin:0;white-space:pre-wrap;overflow-wrap:anywhere}
        p{margin:.3rem 0}.text{white-space:pre-wrap;overflow-wrap:anywhere}.warn{border-left:4px solid #8a6100;padding:.1rem 1rem;background:#fff8e6}
        img{max-width:100%;height:auto;display:block;margin:.8rem auto}
        .scroll{overflow-x:auto}table{border-collapse:collapse;min-width:100%}th,td{padding:.25rem .7rem;text-align:left;vertical-align:top;border-bottom:1px solid #dde2e7}th{border-bottom:2px solid #101820}
        td{font-variant-numeric:tabular-nums;white-space:nowrap}td.long{white-space:pre-wrap;overflow-wrap:anywhere;min-width:12rem}tbody tr:nth-child(odd){background:#f1f3f5}
        .drawing{display:block;width:100%;min-width:40rem;height:auto;margin:.8rem 0}.drawing polygon{fill:#787878;stroke:none}.drawing path,.drawing circle{fill:none;stroke:#101820}.drawing text{fill:#101820;text-anchor:middle}
        .drawing .left{text-anchor:start}.drawing .right{text-anchor:end}
        .care{border-left:4px solid #e8602c;padding:.2rem 1rem;background:#fff6f1}article+article{margin-top:4rem}
        @page{margin:14mm}
        @media print{body{margin:0;padding:0;max-width:none;font-size:9.5pt;print-color-adjust:exact;-webkit-print-color-adjust:exact}article+article{margin:0;break-before:page}
        h2{break-after:avoid;margin-top:1rem}img{max-height:112mm;width:auto;margin:.4rem auto}img.strip{max-height:80mm}tr,img,.scroll,.care{break-inside:avoid}.scroll{overflow:visible}.drawing{min-width:0}th,td{padding:.12rem .5rem}}
        """;

    /// <summary>Texts longer than this may wrap in their column.</summary>
    private const int LongText = 22;

    public static string Write(IReadOnlyList<BuildSheet> sheets)
    {
        StringBuilder html = new();
        string title = sheets.Count == 1 ? sheets[0].Title : $"{sheets.Count} builds";
        html.Append("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">")
            .Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'\">")
            .Append($"<title>{E(title)}</title><style>{Style}</style></head><body><main>\n");
        foreach (BuildSheet sheet in sheets)
            Article(html, sheet);
        return html.Append("</main></body></html>\n").ToString();
    }

    private static void Article(StringBuilder html, BuildSheet sheet)
    {
        html.Append($"<article><h1>{E(sheet.Title)}</h1>\n<dl>");
        foreach ((string name, string text) in sheet.Facts())
            html.Append($"<dt>{E(name)}</dt><dd>{E(text)}</dd>");
        html.Append("</dl>\n");
        if (sheet.Headline is { } headline)
            html.Append($"<h2>{E(headline)}</h2>\n");
        foreach (string warning in sheet.Warnings())
            html.Append($"<p class=\"text warn\">{E(warning)}</p>\n");
        Picture(html, sheet.Pictures?.Overlay, "photo", "The photo with the blank's axis, the line, the rings and each pair's gap drawn in; the figures are in the tables below.");
        Picture(html, sheet.Pictures?.Unrolled, "strip", "The blank straightened, with the line as a row of arcs over it.");
        foreach (SheetTable table in sheet.Tables())
            Table(html, table);
        if (sheet.Drawing() is { } drawing)
            html.Append($"<h2>Drawing of the {E(drawing.Title)}</h2>\n<div class=\"scroll\">").Append(BuildSheetSvg.Draw(drawing.Title, drawing.Layout)).Append("</div>\n");
        if (sheet.Build.Notes.Count > 0)
            html.Append("<h2>Notes</h2>\n");
        foreach (string note in sheet.Notes())
            html.Append($"<p class=\"text\">{E(note)}</p>\n");
        html.Append("<h2>Take care</h2><div class=\"care\">");
        foreach (string caution in BuildSheet.Cautions)
            html.Append($"<p>{E(caution)}</p>");
        html.Append("</div></article>\n");
    }

    private static void Picture(StringBuilder html, ReportPicture? picture, string kind, string says)
    {
        if (picture is not null)
            html.Append($"<img class=\"{kind}\" alt=\"{E(says)}\" width=\"{picture.WidthPx}\" height=\"{picture.HeightPx}\" src=\"data:image/jpeg;base64,{Convert.ToBase64String(picture.Jpeg)}\">\n");
    }

    private static void Table(StringBuilder html, SheetTable table)
    {
        html.Append($"<h2>{E(table.Title)}</h2>");
        if (table.Note is { } note)
            html.Append($"<p class=\"text\">{E(note)}</p>");
        html.Append("<div class=\"scroll\"><table><thead><tr>");
        foreach (string head in table.Heads)
            html.Append($"<th scope=\"col\">{E(head)}</th>");
        html.Append("</tr></thead><tbody>");
        foreach (IReadOnlyList<string> row in table.Rows)
            html.Append($"<tr>{string.Concat(row.Select(c => $"<td{(c.Length > LongText ? " class=\"long\"" : "")}>{E(c)}</td>"))}</tr>");
        html.Append("</tbody></table></div>\n");
    }

    private static string E(string text) => WebUtility.HtmlEncode(text);
}
