using System.Text.Json;
using DeflectScan.Bending;
using DeflectScan.Desk;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Words;

namespace DeflectScan.Web.Trying;

/// <summary>What the page is told of a tried layout: the commands' own JSON in an <see cref="Envelope"/> with the layout, notes and moves.</summary>
internal static class TryAnswer
{
    public static byte[] Of(WhatIfReport report, IReadOnlyList<BenchMove> moves, IEnumerable<GuideChange> changes, LengthUnit unit) => Envelope.Of(DeskJson.Write(report), writer =>
    {
        writer.WriteString("layout", TriedLayout.Write(changes));
        Envelope.Sentences(writer, "notes", report.Notes, unit);
        writer.WriteStartArray("moves");
        foreach (BenchMove move in moves)
        {
            writer.WriteStartObject();
            writer.WriteString("act", move.Act switch { BenchAct.TakeOff => "off", BenchAct.Add => "add", _ => "slide" });
            Envelope.Number(writer, "guide", move.Guide);
            Envelope.Number(writer, "becomes", move.Becomes);
            Envelope.Number(writer, "fromMm", move.FromMm);
            Envelope.Number(writer, "toMm", move.ToMm);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    });

    public static byte[] Of(SpacingReport report, IReadOnlyList<GuideChange>? changes, LengthUnit unit) => Envelope.Of(DeskJson.Write(report), writer =>
    {
        Layout(writer, changes);
        Envelope.Sentences(writer, "notes", report.Notes, unit);
    });

    public static byte[] Of(BendReport report, IReadOnlyList<GuideChange>? best, LengthUnit unit) => Envelope.Of(DeskJson.Write(report), writer =>
    {
        Layout(writer, best);
        Envelope.Sentences(writer, "notes", [.. report.Warnings, .. report.Bends.SelectMany(b => b.Warnings).Distinct()], unit);
        Envelope.Sentences(writer, "cautions", report.Cautions, unit);
    });

    private static void Layout(Utf8JsonWriter writer, IReadOnlyList<GuideChange>? changes)
    {
        if (changes is null)
            writer.WriteNull("layout");
        else
            writer.WriteString("layout", TriedLayout.Write(changes));
    }
}
