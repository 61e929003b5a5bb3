using DeflectScan.Geometry;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Reporting;

/// <summary>Headline, labels, suggestion and legend of the pictures follow the unit asked for; 25.4 mm are 1 in.</summary>
public class PictureUnitTests
{
    [Fact]
    public void EveryWordOfTheOverlayIsInInches()
    {
        const string Name = "students-few";
        Measurement m = TruthDocument.Of(Name);
        using Picture picture = new(1000, 750);
        RodSketch sketch = new(m, 1000.0 / m.Photo!.WidthPx, 0);
        string[] labels = [.. new OverlayLabels(m, sketch, new OverlayMarks(m, sketch, picture.Brush), picture.Brush, new Box(new Vec2(500, 375), 1000, 750), LengthUnit.Inches).Texts];
        Assert.Contains($"bow {m.FollowsWorst!.BowMm / 25.4:0.00} in", labels);
        Assert.Matches(@"\badd at [0-9]+( [0-9]+/[0-9]+)? in\b", string.Join(", ", labels)); // a sign before it would read as a shift
        string[] words =
        [
            .. labels, OverlayWords.Headline(m, LengthUnit.Inches), OverlayWords.Largest(m, LengthUnit.Inches)!,
            .. OverlayLegend.Keys(m, LengthUnit.Inches).Select(k => k.Words),
        ];
        Assert.All(words, w => Assert.DoesNotContain(" mm", w, StringComparison.Ordinal));
        Assert.All(labels, w => Assert.DoesNotContain('+', w));
        Assert.Contains($"bow {m.FollowsWorst.BowMm / 25.4:0.00} ± ", OverlayWords.Headline(m, LengthUnit.Inches), StringComparison.Ordinal);
        Assert.Matches(@"add a guide [0-9]+( [0-9]+/[0-9]+)? in \([0-9]+ mm\)", OverlayWords.Suggestion(m, LengthUnit.Inches)!); // both: it is what is done
    }
}
