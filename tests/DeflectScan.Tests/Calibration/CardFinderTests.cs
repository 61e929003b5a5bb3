using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Calibration;

public class CardFinderTests
{
    public static TheoryData<string> Photos => [.. TestPhoto.WithCards];

    /// <summary>Outside check: the truth files of the rendered photos. Bars in px of the 12 MP photos.</summary>
    [Theory]
    [MemberData(nameof(Photos))]
    public void EveryCornerIsFoundWhereTheTruthHasIt(string name)
    {
        Truth truth = Repository.Truth(name);
        using UprightPhoto photo = TestPhoto.Open(name);
        IReadOnlyList<CardSighting> cards = CardFinder.Find(photo);

        Assert.Equal(truth.Cards.Select(c => c.Letter[0]).Order(), cards.Select(c => c.Letter));
        List<double> errors = ErrorsPx(cards, truth, 1);
        Assert.Equal(truth.Cards.Count * ScaleCard.InnerCorners, errors.Count);
        errors.Sort();
        Assert.True(errors[errors.Count / 2] < 0.09, $"median {errors[errors.Count / 2]:0.000} px");
        Assert.True(errors[(int)(errors.Count * 0.95)] < 0.14, $"95 % {errors[(int)(errors.Count * 0.95)]:0.000} px");
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(0.25)]
    [InlineData(2)]
    public void PhotosOfThreeQuartersToFortyEightMegapixelsServe(double scale)
    {
        using Mat full = Cv2.ImRead(Repository.Photo("casting-top"));
        Mat scaled = new();
        Cv2.Resize(full, scaled, default, scale, scale, scale < 1 ? InterpolationFlags.Area : InterpolationFlags.Cubic);
        using UprightPhoto photo = TestPhoto.From(scaled);
        List<double> errors = ErrorsPx(CardFinder.Find(photo), Repository.Truth("casting-top"), scale);
        Assert.Equal(48, errors.Count);
        Assert.True(errors.Max() < 0.25 * Math.Max(1, scale), $"largest {errors.Max():0.000} px");
    }

    [Fact]
    public void APhotoWithoutACardHasNone()
    {
        using UprightPhoto photo = TestPhoto.Open("bad-no-card");
        Assert.Empty(CardFinder.Find(photo));
    }

    /// <summary>A bar over the card hides some corners: those are left out, and the rest are as good as before.</summary>
    [Fact]
    public void CornersUnderABarAreLeftOut()
    {
        Truth truth = Repository.Truth("clean-spinning");
        Mat bgr = Cv2.ImRead(Repository.Photo("clean-spinning"));
        TruthCard card = truth.Cards[0];
        Vec2 from = TestPhoto.CornerPx(card, 1);
        Vec2 to = TestPhoto.CornerPx(card, 22);
        Vec2 beyond = (to - from) * 0.5;
        Cv2.Line(bgr, Pixel(from - beyond), Pixel(to + beyond), new Scalar(40, 60, 90), 24, LineTypes.AntiAlias);
        using UprightPhoto photo = TestPhoto.From(bgr);
        IReadOnlyList<CardSighting> cards = CardFinder.Find(photo);

        CardSighting seen = cards.Single(c => c.Letter == card.Letter[0]);
        Assert.DoesNotContain(seen.Corners, c => c.Index is 1 or 22);
        Assert.InRange(seen.Corners.Count, 8, 22);
        Assert.True(ErrorsPx(cards, truth, 1).Max() < 0.3);
    }

    [Fact]
    public void TheNumberOfThreadsChangesNothing()
    {
        int threads = Cv2.GetNumThreads();
        try
        {
            Cv2.SetNumThreads(1);
            string one = Print();
            Cv2.SetNumThreads(4);
            Assert.Equal(one, Print());
        }
        finally
        {
            Cv2.SetNumThreads(threads);
        }

        static string Print()
        {
            using UprightPhoto photo = TestPhoto.Open("wall-shadow");
            return string.Join('\n', CardFinder.Find(photo).SelectMany(c => c.Corners.Select(k => $"{c.Letter}{k.Index} {k.Px.X:R} {k.Px.Y:R}")));
        }
    }

    private static Point Pixel(Vec2 p) => new((int)Math.Round(p.X), (int)Math.Round(p.Y));

    private static List<double> ErrorsPx(IReadOnlyList<CardSighting> cards, Truth truth, double scale)
    {
        List<double> errors = [];
        foreach (CardSighting card in cards)
        {
            TruthCard t = truth.Cards.Single(c => c.Letter[0] == card.Letter);
            Vec2 half = new(0.5, 0.5);
            errors.AddRange(card.Corners.Select(c => (((TestPhoto.CornerPx(t, c.Index) + half) * scale) - half).DistanceTo(c.Px)));
        }

        return errors;
    }
}
