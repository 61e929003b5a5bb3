using DeflectScan.Accuracy.Compare;
using DeflectScan.Scenes;
using DeflectScan.Tracing;

namespace DeflectScan.Tests.Pipeline;

/// <summary>Every photo that can be measured, no hint given, against its exact truth. The bars are those that the program was ordered with.</summary>
[Collection(Measured.Collection)]
public class GoodPhotoTests
{
    public static TheoryData<string> Good => [.. Measured.Good];

    [Theory]
    [MemberData(nameof(Good))]
    public void Is_measured_with_no_hint_and_every_guide_is_found(string name)
    {
        PhotoComparison photo = Measured.Compared(name);
        Assert.True(photo.Status == MeasurementStatus.Ok, $"{photo.Status}: {string.Join(", ", photo.Codes)}");
        Assert.Empty(photo.Guides.Missed);
        Assert.Empty(photo.Guides.False);
    }

    [Theory]
    [MemberData(nameof(Good))]
    public void Says_the_true_side_of_the_bend(string name) =>
        Assert.Equal(Repository.Truth(name).Side == "inside" ? BendSide.Inside : BendSide.Outside, Measured.Photo(name).Side);

    [Theory]
    [MemberData(nameof(Good))]
    public void Gaps_and_bows_are_within_the_bars(string name)
    {
        PhotoComparison photo = Measured.Compared(name);
        Spread gaps = Spread.Of(photo.Gaps.Select(g => g.Error));
        Spread bows = Spread.Of(photo.Bows.Select(b => b.Error));
        Assert.Equal(Repository.Truth(name).Guides.Count - 1, gaps.Count);
        Assert.InRange(gaps.Median, 0, 0.3);
        Assert.InRange(gaps.P95, 0, 1);
        Assert.InRange(gaps.Max, 0, 2);
        Assert.InRange(bows.P95, 0, 0.6);
    }

    [Theory]
    [MemberData(nameof(Good))]
    public void Axis_and_diameter_are_within_the_bars(string name)
    {
        PhotoComparison photo = Measured.Compared(name);
        Spread axis = Spread.Of(photo.AxisPx);
        Assert.InRange(photo.AxisSpan, 0.95, 1);
        Assert.InRange(axis.Median, 0, 0.35);
        Assert.InRange(axis.P95, 0, 1);
        Assert.InRange(Spread.Of(photo.DiameterMm).P95, 0, 0.5);
    }

    [Theory]
    [MemberData(nameof(Good))]
    public void Names_the_pairs_with_the_largest_gap_and_bow(string name)
    {
        PhotoComparison photo = Measured.Compared(name);
        Assert.True(photo.LargestGapRight);
        Assert.True(photo.LargestBowRight);
    }

    [Fact]
    public void Stations_are_within_the_bars_of_two_or_more_cards_and_of_one()
    {
        PhotoComparison[] photos = [.. Measured.Good.Select(Measured.Compared)];
        Spread several = Spread.Of(photos.Where(p => p.CardsTrue > 1).SelectMany(p => p.Stations).Select(s => s.Error));
        Assert.InRange(several.Median, 0, 1.5);
        Assert.InRange(several.P95, 0, 4);
        FigureError[] one = [.. photos.Where(p => p.CardsTrue == 1).SelectMany(p => p.Stations)];
        Assert.InRange(Spread.Of(one.Select(s => s.Error / (3 + (0.01 * s.FromTipMm)))).P95, 0, 1);
    }

    // 95 % of many: fewer than 87 % of 60 to 70 would happen by chance once in a thousand (binomial distribution).
    [Fact]
    public void Stated_uncertainties_hold_what_they_say()
    {
        PhotoComparison[] photos = [.. Measured.Good.Select(Measured.Compared)];
        Assert.InRange(Covered(photos.SelectMany(p => p.Gaps)), 0.87, 1);
        Assert.InRange(Covered(photos.SelectMany(p => p.Bows)), 0.87, 1);
        Assert.InRange(Covered(photos.SelectMany(p => p.Stations)), 0.87, 1);
    }

    /// <summary>The tip's end moves every station alike and a shadow every height: neither may lie outside what is stated.</summary>
    [Fact]
    public void On_a_shadowed_wall_stations_and_heights_lie_within_what_is_stated()
    {
        Measurement m = Measured.Photo("wall-shadow");
        Truth truth = Repository.Truth("wall-shadow");
        Assert.Equal(truth.Guides.Count, m.Guides.Count);
        for (int i = 0; i < m.Guides.Count - 1; i++)
        {
            Assert.InRange(Math.Abs(m.Guides[i].StationMm - truth.Guides[i].FromTipMm), 0, m.Guides[i].Station.UncertaintyMm);
            Assert.InRange(Math.Abs(m.Guides[i].HeightMm - truth.Guides[i].HeightMm), 0, m.Guides[i].Height.UncertaintyMm);
        }
    }

    [Theory]
    [MemberData(nameof(Good))]
    public void No_wrong_guide_gap_bow_or_station_stands_under_ok(string name)
    {
        PhotoComparison photo = Measured.Compared(name);
        if (photo.Status == MeasurementStatus.Ok)
            Assert.Empty(photo.Wrong);
    }

    private static double Covered(IEnumerable<FigureError> errors) => errors.Average(e => e.IsCovered ? 1.0 : 0);
}
