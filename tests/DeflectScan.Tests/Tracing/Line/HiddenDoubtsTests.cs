using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Line;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tests.Tracing.Line;

/// <summary>What hides the blank is said once, with all its places; a person who marked every ring has looked there.</summary>
public class HiddenDoubtsTests
{
    private static readonly BlankAxis Axis = new(ArcCurve.Through([new(0, 0), new(300, 0), new(600, 0)]), [0, 600], [4, 4], [0, 0], [0, 0], 600, 1);

    [Fact]
    public void Nothing_hidden_is_no_finding() => Assert.Empty(HiddenDoubts.Of(Axis, Rings(complete: false)));

    [Fact]
    public void Every_hidden_stretch_is_named_in_one_finding()
    {
        BlankAxis axis = Axis with { Hidden = [(80, 122), (400, 436)] };
        Finding said = Assert.Single(HiddenDoubts.Of(axis, Rings(complete: false)));
        Assert.Equal((FindingCode.GuidesUncertain, Severity.Review), (said.Code, said.Severity));
        Assert.Contains("over 42 mm, about 101 mm from the tip, and over 36 mm, about 418 mm", said.Message, StringComparison.Ordinal);
        Assert.Equal([new FindingPlace(80, 122), new FindingPlace(400, 436)], said.Places);
        Assert.Empty(HiddenDoubts.Of(axis, Rings(complete: true)));
    }

    [Fact]
    public void Hidden_stretches_move_with_the_tip() => Assert.Equal([(70.0, 112.0)], (Axis with { Hidden = [(80, 122)] }).WithTipAt(10).Hidden);

    private static RingChoice Rings(bool complete) => new(true, [], true, new DecodedRings(true, [], null, 1, []), [], complete, []);
}
