using DeflectScan.Checking;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Words;

namespace DeflectScan.Web.Routes;

/// <summary>What the page is told of a photo; its figures are in the measurement document of <see cref="Key"/>.</summary>
internal sealed record PhotoView(
    string Id,
    string Name,
    DateTimeOffset ReceivedAt,
    long Version,
    string Stage,
    string Doing,
    string? Key,
    string? Status,
    HeadlineView? Headline,
    CheckView? Check,
    IReadOnlyList<FindingView> Findings,
    IReadOnlyList<int> Placed,
    string? Undo,
    string? Redo,
    int? WidthPx,
    int? HeightPx,
    string? Why,
    bool IsAside)
{
    public static PhotoView Of(BenchPhoto photo, LengthUnit unit)
    {
        lock (photo.Gate)
        {
            Measurement? m = photo.Measured;
            IReadOnlyList<PlacedFinding> findings = m is null ? [] : FindingPlaces.Of(m, Bench.Open(photo), unit);
            int places = findings.Sum(f => f.Places.Count);
            bool review = m?.Status == MeasurementStatus.NeedsReview || (m?.Status == MeasurementStatus.Ok && places > 0);
            return new PhotoView(
                photo.Stored.Id,
                photo.Stored.Name,
                photo.Stored.ReceivedAt,
                photo.Version,
                photo.Stage.ToString().ToLowerInvariant(),
                photo.Doing,
                m is null ? null : photo.MeasuredKey,
                m is null ? null : review ? "needs_review" : MeasurementJson.Spell(m.Status),
                m is null ? null : HeadlineView.Of(Words.Headline.Of(m, places, unit)),
                photo.Check is { } check ? CheckView.Of(check, unit) : null,
                [.. findings.Select(FindingView.Of)],
                m is null ? [] : PlacedGuides(m, photo.MeasuredWith.PlacedPx),
                photo.Log.CanUndo ? photo.Log.Now.Says : null,
                photo.Log.Next?.Says,
                m?.Photo?.WidthPx,
                m?.Photo?.HeightPx,
                m?.Suggestion is { } suggestion ? UnitsInSentences.Of(suggestion.Why, unit) : null,
                photo.Stored.IsAside);
        }
    }

    /// <summary>The guides that a person placed: each placed point's nearest ring.</summary>
    private static IReadOnlyList<int> PlacedGuides(Measurement m, IReadOnlyList<Vec2> placed) =>
        m.Guides.Count == 0 ? [] : [.. placed.Select(p => m.Guides.MinBy(g => g.RingPx.DistanceTo(p))!.Index).Distinct().Order()];
}

internal sealed record HeadlineView(string Status, string Answer, int? From)
{
    public static HeadlineView Of(Headline h) => new(h.Status, h.Answer, h.From);
}

/// <summary>What the quick check says: a verdict and what to do, worst first.</summary>
/// <param name="Verdict">As the command line spells it.</param>
/// <param name="Reach">How far it has looked: "cards", "blank", "whole".</param>
/// <param name="ToDo">What was seen, and what to do about it.</param>
internal sealed record CheckView(string Verdict, string Reach, IReadOnlyList<CheckLine> ToDo)
{
    public static CheckView Of(CheckReport report, LengthUnit unit) => new(
        MeasurementJson.Spell(report.Verdict), report.Reach.ToString().ToLowerInvariant(), [.. report.ToDo.Select(i => new CheckLine(PageWords.Of(i.Seen, unit), PageWords.Of(i.Do, unit)))]);
}

internal sealed record CheckLine(string Seen, string Do);

internal sealed record FindingView(string Code, string Severity, string Message, IReadOnlyList<PlaceView> Places)
{
    public static FindingView Of(PlacedFinding f) => new(f.Code, f.Severity, f.Message, [.. f.Places.Select(p => new PlaceView(p.Number, p.StationMm, p.Px.X, p.Px.Y, p.Guide))]);
}

internal sealed record PlaceView(int Number, double StationMm, double X, double Y, int? Guide);
