using System.Net;
using System.Text;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Reports;

/// <summary>Build sheets as one self-contained HTML file: pictures inside, no script, nothing fetched. All text is escaped.</summary>
public static class BuildSheetHtml
{
    private const string Style = """
        body{font:16px/1.45 "Noto Sans",system-ui,sans-serif;color:#101820;background:#fff;max-width:60rem;margin:2rem auto;padding:0 1rem}
        h1{font-size:1.7rem;margin:0 0 .8rem}h2{font-size:1.1rem;margin:1.6rem 0 .4rem}
        dl{display:grid;grid-template-columns:max-content 1fr;gap:.15rem 1.2rem;margin:0}dt{font-weight:600}dd{margin:0;white-space:pre-wrap;overflow-wrap:anywhere}
        img{max-width:100%;height:auto;display:block;margin:.8rem 0}
        .scroll{overflow-x:auto}table{border-collapse:collapse;min-width:100%}th,td{padding:.25rem .7rem;text-align:left;border-bottom:1px solid #dde2e7}th{border-bottom:2px solid #101820}
        td{font-variant-numeric:tabular-nums}tbody tr:nth-child(odd){background:#f1f3f5}
        .note{white-space:pre-wrap}.care{border-left:4px solid #e8602c;padding:.2rem 1rem;background:#fff6f1}
        article+article{margin-top:4rem}@media print{article{break-after:page}body{margin:0;max-width:none;font-size:11pt}h2{break-after:avoid}tr,img{break-inside:avoid}}
        """;

    public static string Write(IReadOnlyList<BuildSheet> sheets)
    {
        StringBuilder html = new();
        string title = sheets.Count == 1 ? sheets[0].Build.Facts.Name : $"{sheets.Count} builds";
        html.Append("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">")
            .Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; style-src 'unsafe-inline'\">")
            .Append($"<title>{E(title)}</title><style>{Style}</style></head><body><main>\n");
        foreach (BuildSheet sheet in sheets)
            Article(html, sheet);
        return html.Append("</main></body></html>\n").ToString();
    }

    private static void Article(StringBuilder html, BuildSheet sheet)
    {
        html.Append($"<article><h1>{E(sheet.Build.Facts.Name)}</h1>\n<dl>");
        foreach ((string name, string text) in sheet.Facts())
            html.Append($"<dt>{E(name)}</dt><dd>{E(text)}</dd>");
        html.Append("</dl>\n");
        if (sheet.Headline is { } headline)
            html.Append($"<h2>{E(headline)}</h2>\n");
        Picture(html, sheet.Pictures?.Overlay, "The photo with the blank's axis, the line, the rings and each pair's gap drawn in; the figures are in the tables below.");
        Picture(html, sheet.Pictures?.Unrolled, "The blank straightened, with the line as a row of arcs over it.");
        if (sheet.Pictures?.Remark is { } remark)
            html.Append($"<p>{E(remark)}</p>\n");
        foreach (Findings.Finding finding in sheet.Measurement?.Findings ?? [])
            html.Append($"<p>{E(finding.Message)}</p>\n");
        foreach (SheetTable table in sheet.Tables())
            Table(html, table);
        if (sheet.Build.Notes.Count > 0)
            html.Append("<h2>Notes</h2>\n");
        foreach (BuildNote note in sheet.Build.Notes)
            html.Append($"<p class=\"note\">{note.At:yyyy-MM-dd}{(note.Kind == NoteKind.TestCast ? ", test cast" : "")}: {E(note.Text)}</p>\n");
        html.Append("<h2>Take care</h2><div class=\"care\">");
        foreach (string caution in BuildSheet.Cautions)
            html.Append($"<p>{E(caution)}</p>");
        html.Append("</div></article>\n");
    }

    private static void Picture(StringBuilder html, ReportPicture? picture, string says)
    {
        if (picture is not null)
            html.Append($"<img alt=\"{E(says)}\" width=\"{picture.WidthPx}\" height=\"{picture.HeightPx}\" src=\"data:image/jpeg;base64,{Convert.ToBase64String(picture.Jpeg)}\">\n");
    }

    private static void Table(StringBuilder html, SheetTable table)
    {
        html.Append($"<h2>{E(table.Title)}</h2><div class=\"scroll\"><table><thead><tr>");
        foreach (string head in table.Heads)
            html.Append($"<th scope=\"col\">{E(head)}</th>");
        html.Append("</tr></thead><tbody>");
        foreach (IReadOnlyList<string> row in table.Rows)
            html.Append($"<tr>{string.Concat(row.Select(c => $"<td>{E(c)}</td>"))}</tr>");
        html.Append("</tbody></table></div>\n");
    }

    private static string E(string text) => WebUtility.HtmlEncode(text);
}
