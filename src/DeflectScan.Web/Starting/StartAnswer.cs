using DeflectScan.Geometry;
using DeflectScan.Layout.Start;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Words;

namespace DeflectScan.Web.Starting;

/// <summary>What the page is told of a start layout: the JSON of <c>plan</c>, and in a person's words what each value rests on.</summary>
internal static class StartAnswer
{
    public static byte[] Of(StartInput input, StartLayout layout, LengthUnit unit) => Envelope.Of(DeskJson.Write(PlanReport.Of(input, layout)), writer =>
    {
        writer.WriteStartArray("reasons");
        foreach ((string of, string why) in Reasons(layout))
        {
            writer.WriteStartObject();
            writer.WriteString("of", of);
            writer.WriteString("why", UnitsInSentences.Of(why, unit));
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
    });

    private static IEnumerable<(string Of, string Why)> Reasons(StartLayout layout)
    {
        foreach (Reasoned spool in layout.Spool)
            yield return ("Spool", $"{spool.Why} {Word(spool.Basis)}");
        yield return ("Every ring's hole", $"{layout.LeastBore.Why} {Word(layout.LeastBore.Basis)}");
        yield return ("Number of guides", $"{layout.Count.Why} {Word(layout.Count.Basis)}");
        int tip = layout.Guides.Count - 1;
        foreach (var same in layout.Guides.SelectMany((g, i) => new[] { (g.StationBasis, i), (g.RingBasis, i) }).GroupBy(p => p.Item1.Why, StringComparer.Ordinal))
            yield return (Names([.. same.Select(p => p.i).Distinct()], tip), $"{same.Key} {Word(same.First().Item1.Basis)}");
    }

    private static string Names(int[] guides, int tip) => string.Join(", ", guides.Select(g => g == tip ? "tip-top" : $"{g + 1}"));

    private static string Word(Grounds basis) => basis switch
    {
        Grounds.Given => "(given)",
        Grounds.Geometry => "(geometry)",
        Grounds.CommonPractice => "(common practice, no source)",
        _ => "(judgement)",
    };
}
