using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using SkiaSharp;

namespace DeflectScan.Reporting;

/// <summary>The overlay's labels: each gap outside the bend; each guide's number, the worst figure, the added guide and doubts inside it, with leaders.</summary>
internal sealed class OverlayLabels
{
    /// <summary>Where a label would stand worse than this, the gaps' labels are figures alone, and only the legend says the unit.</summary>
    private const double Cramped = 35;

    private readonly Measurement _measurement;
    private readonly RodSketch _sketch;
    private readonly Brush _brush;
    private readonly List<Label> _labels = [];
    private readonly float _size;
    private readonly LengthUnit _unit;

    public OverlayLabels(Measurement m, RodSketch sketch, OverlayMarks marks, Brush brush, Box frame, LengthUnit unit = LengthUnit.Millimetres)
    {
        _measurement = m;
        _sketch = sketch;
        _unit = unit;
        _brush = brush;
        _size = m.Intervals.Count > 12 ? 26 : 29;
        LabelPlacer placer = new(frame, brush.Unit);
        placer.KeepClear(sketch.Axis, 6 * brush.Unit);
        for (int i = 1; i <= m.Guides.Count; i++)
        {
            placer.KeepClear(sketch.Ring(i), (OverlayMarks.RingRadius + 2) * brush.Unit);
            if (i > 1)
                placer.KeepClear([sketch.Ring(i - 1), sketch.Ring(i)], 3 * brush.Unit);
        }

        foreach ((Vec2 from, Vec2 to) in marks.Arrows())
            placer.KeepClear([from, to], 5 * brush.Unit);
        foreach (SuggestedGuide g in m.Suggestion?.Layout ?? [])
            placer.KeepClear(marks.At(g), 8 * brush.Unit);
        Label[] inside = [.. m.Guides.Select(Badge).Concat(Added(marks)).Concat(Worst()).Concat(Doubts()).Where(Shows)];
        Add(placer, inside, placer.Arrange(Requests(inside)));
        Label[] gaps = [.. m.Intervals.Select(p => Gap(p, withUnit: true)).Where(Shows)];
        Arrangement roomy = placer.Arrange(Requests(gaps));
        if (roomy.WorstCost > Cramped)
        {
            Label[] shorter = [.. m.Intervals.Select(p => Gap(p, withUnit: false)).Where(Shows)];
            Arrangement tight = placer.Arrange(Requests(shorter));
            if (tight.WorstCost < roomy.WorstCost)
                (gaps, roomy) = (shorter, tight);
        }

        Add(placer, gaps, roomy);

        // What lies outside the photo has no label: it would point at nothing.
        bool Shows(Label label) => new Box(label.Request.Anchor, 0, 0).Outside(frame) == 0;

        IReadOnlyList<LabelRequest> Requests(Label[] labels) => [.. labels.Select(l => l.Request)];
    }

    public void DrawLeaders()
    {
        foreach (Label label in _labels)
        {
            Vec2 end = label.Place.Entry(label.Request.Anchor);
            if (end.DistanceTo(label.Request.Anchor) > 7 * _brush.Unit)
                _brush.Segment(label.Request.Anchor.ToSk(), end.ToSk(), label.Leader, label.Strong ? 1.8f : 1.4f, halo: 0.7f);
        }
    }

    public void Draw()
    {
        foreach (Label label in _labels)
        {
            Box b = label.Place;
            SKRect rect = new((float)b.Left, (float)b.Top, (float)b.Right, (float)b.Bottom);
            float corner = label.Round ? (float)(b.Height / 2 / _brush.Unit) : 5;
            _brush.Box(rect, label.Fill, corner, label.Edge, label.Strong ? 2.4f : 1.6f);
            _brush.TextCentred(label.Text, b.Centre.ToSk(), label.Size, Palette.Against(label.Fill), label.Strong);
        }
    }

    private void Add(LabelPlacer placer, Label[] labels, Arrangement arrangement)
    {
        placer.Keep(arrangement, [.. labels.Select(l => l.Request)]);
        _labels.AddRange(labels.Select((label, i) => label with { Place = arrangement.Boxes[i] }));
    }

    /// <summary>The words of all labels.</summary>
    public IEnumerable<string> Texts => _labels.Select(l => l.Text);

    private Label Gap(IntervalReport pair, bool withUnit)
    {
        (Vec2 onBlank, Vec2 onLine) = _sketch.GapEnds(pair);
        Vec2 outward = _sketch.Outward(pair.GapAtMm);
        Vec2 anchor = outward.Dot(onBlank - onLine) >= 0 ? onBlank : onLine;
        return Make($"{UnitsInSentences.Bare(pair.GapMm, _unit)}{(withUnit ? $" {UnitsInSentences.Name(_unit)}" : "")}{(_measurement.InDoubt(pair) ? " ?" : "")}", anchor, outward, _size, Palette.Panel) with
        {
            Edge = Palette.Gap,
            Leader = Palette.Gap,
        };
    }

    /// <summary>The figure that the headline names, at its place; in the hollow of the bend, where there is room for a long label.</summary>
    private IEnumerable<Label> Worst()
    {
        if (WorstFigure.Of(_measurement) is not { } worst)
            yield break;
        (Vec2 from, Vec2 to) = worst.Ends(_sketch);
        Vec2 inward = -_sketch.Outward(worst.AtMm);
        yield return Make(worst.Short(_unit), inward.Dot(from - to) >= 0 ? from : to, inward, _size * 1.2f, Palette.Largest) with { Edge = Palette.Paper, Leader = Palette.Largest, Strong = true };
    }

    private Label Badge(GuideReport guide)
    {
        Vec2 inward = -_sketch.Outward(guide.StationMm);
        Vec2 at = _sketch.Ring(guide.Index);
        float side = 33 * _brush.Unit;
        LabelRequest request = new(at, inward, side, side, 11 * _brush.Unit);
        return new Label(OverlayWords.Badge(guide), request, 25, Palette.Paper, Palette.Ink, Palette.Ink, Strong: true, Round: true, default);
    }

    private IEnumerable<Label> Added(OverlayMarks marks)
    {
        foreach (SuggestedGuide g in _measurement.Suggestion?.Layout.Where(g => g.Index is null) ?? [])
        {
            yield return Make($"add at {(_unit == LengthUnit.Millimetres ? $"{g.StationMm:0} mm" : UnitsText.Sixteenths(g.StationMm))}", marks.At(g), -_sketch.Outward(g.StationMm), _size, Palette.Ghost) with
            {
                Edge = Palette.Ghost,
                Strong = true,
            };
        }
    }

    /// <summary>The mark of a cause at each of its places.</summary>
    private IEnumerable<Label> Doubts() =>
        from f in NumberedFindings.Of(_measurement.Findings)
        where f.Mark is not null
        from place in f.Finding.Places
        select Make(f.Mark!, _sketch.Point(place.MiddleMm), -_sketch.Outward(place.MiddleMm), _size, Palette.Line) with { Edge = Palette.Ink, Leader = Palette.Line, Strong = true };

    private Label Make(string text, Vec2 anchor, Vec2 outward, float size, SKColor fill)
    {
        double width = _brush.Width(text, size, bold: true) + (size * 0.7 * _brush.Unit);
        LabelRequest request = new(anchor, outward, width, size * 1.28 * _brush.Unit, 16 * _brush.Unit);
        return new Label(text, request, size, fill, fill, fill, Strong: false, Round: false, default);
    }

    private sealed record Label(
        string Text, LabelRequest Request, float Size, SKColor Fill, SKColor Edge, SKColor Leader, bool Strong, bool Round, Box Place);
}
