using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting.Cards;
using DeflectScan.Scenes;
using OpenCvSharp;
using OpenCvSharp.Aruco;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;

namespace DeflectScan.Tests.Calibration;

public class CardDrawingTests
{
    private const double MmPerPoint = 25.4 / 72;

    /// <summary>
    /// Outside check: an independent PDF reader finds the page as ISO 216 (210 × 297 mm) and ANSI/ASME Y14.1 size A (8.5 × 11 inches, from
    /// memory) say, and squares, markers and rule where the card's description puts them, to 0.01 mm.
    /// </summary>
    [Theory]
    [InlineData('A', Paper.A4, 210, 297)]
    [InlineData('E', Paper.A4, 210, 297)]
    [InlineData('C', Paper.Letter, 215.9, 279.4)]
    public void ThePdfIsTrueToSize(char letter, Paper paper, double widthMm, double heightMm)
    {
        using MemoryStream file = new();
        CardDrawing.WritePdf(letter, paper, file);
        using PdfDocument document = PdfDocument.Open(file.ToArray());
        Page page = document.GetPage(1);
        Assert.Equal(1, document.NumberOfPages);
        Assert.Equal(widthMm, page.Width * MmPerPoint, 0.01);
        Assert.Equal(heightMm, page.Height * MmPerPoint, 0.01);

        PdfRectangle[] boxes = [.. page.Paths.Select(p => p.GetBoundingRectangle()).OfType<PdfRectangle>()];
        PdfRectangle[] squares = OfSize(boxes, 36);
        PdfRectangle[] markers = OfSize(boxes, 27);
        Assert.Equal(18, squares.Length);
        Assert.Equal(17, markers.Length);
        double left = squares.Min(s => s.Left) * MmPerPoint;
        double top = squares.Max(s => s.Top) * MmPerPoint;
        Assert.All(squares, s => Assert.True(OnGrid((s.Left * MmPerPoint) - left, 36) && OnGrid(top - (s.Top * MmPerPoint), 36)));
        Assert.All(markers, m => Assert.True(OnGrid((m.Left * MmPerPoint) - left - 4.5, 36) && OnGrid(top - (m.Top * MmPerPoint) - 4.5, 36)));
        Assert.Equal(widthMm / 2, left + 90, 0.01);
        Assert.Contains(boxes, b => Math.Abs((b.Width * MmPerPoint) - 100) < 0.01);
        Assert.All(boxes, b => Assert.True(b.Left > 5 / MmPerPoint && b.Bottom > 5 / MmPerPoint && b.Top < page.Height - (5 / MmPerPoint), "outside what printers reach"));
        Assert.Contains("90 degrees or less to the butt", string.Join(' ', page.GetWords().Select(w => w.Text)), StringComparison.Ordinal);
        Assert.All(page.Letters, l => Assert.True(l.BoundingBox.Right * MmPerPoint < left + 180.01 && l.BoundingBox.Bottom > 5 / MmPerPoint, $"{l.Value} stands beside the pattern's width or too low"));
        Assert.Contains($"scale card {letter}", page.Text.Replace("  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    /// <summary>Outside check: OpenCV's own ChArUco detector reads every marker and inner corner of the printed picture.</summary>
    [Theory]
    [InlineData('A', Paper.A4)]
    [InlineData('B', Paper.Letter)]
    [InlineData('E', Paper.A4)]
    public void OpenCvReadsThePictureAsItsOwnBoard(char letter, Paper paper)
    {
        using Mat printed = DrawPng(letter, paper);
        using Mat page = new(); // as large as a photo may show it: 100 dots per inch
        Cv2.Resize(printed, page, default, 1 / 3.0, 1 / 3.0, InterpolationFlags.Area);
        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict4X4_100);
        using ArucoDetector markers = new(dictionary);
        markers.DetectMarkers(page, out _, out int[] ids, out _);
        int first = ScaleCard.Letters.IndexOf(letter, StringComparison.Ordinal) * 17;
        Assert.Equal(Enumerable.Range(first, 17), ids.Order());

        if (letter != 'A')
            return; // the board as OpenCV builds it by itself has ids from 0: card A
        using CharucoBoard board = new(5, 7, 36, 27, dictionary);
        using CharucoDetector detector = new(board);
        detector.DetectBoard(page, out Point2f[] corners, out int[] cornerIds, out _, out _);
        Assert.Equal(24, corners.Length);
        const double dotsPerMm = 100 / 25.4;
        for (int i = 0; i < corners.Length; i++)
        {
            double dx = (corners[i].X - corners[0].X) / dotsPerMm;
            double dy = (corners[i].Y - corners[0].Y) / dotsPerMm;
            Vec2 expected = ScaleCard.InnerCornerMm(cornerIds[i]) - ScaleCard.InnerCornerMm(cornerIds[0]);
            Assert.Equal(expected.X, dx, 0.1);
            Assert.Equal(expected.Y, dy, 0.1);
        }
    }

    [Fact]
    public void OurOwnFinderReadsWhatWasDrawn()
    {
        using Mat page = DrawPng('D', Paper.Letter);
        Mat bgr = new();
        Cv2.CvtColor(page, bgr, ColorConversionCodes.GRAY2BGR);
        using UprightPhoto photo = TestPhoto.From(bgr);
        CardSighting card = Assert.Single(CardFinder.Find(photo));
        Assert.Equal(('D', 24), (card.Letter, card.Corners.Count));
        double dotsPerMm = 300 / 25.4;
        Assert.All(card.Corners, c => Assert.Equal(
            (ScaleCard.InnerCornerMm(c.Index) - ScaleCard.InnerCornerMm(0)).Length * dotsPerMm, c.Px.DistanceTo(card.Corners[0].Px), 0.1));
    }

    [Fact]
    public void TheSvgHasTheSameBoxesInMillimetres()
    {
        using MemoryStream file = new();
        CardDrawing.WriteSvg('B', Paper.A4, file);
        System.Xml.Linq.XDocument svg = System.Xml.Linq.XDocument.Parse(System.Text.Encoding.UTF8.GetString(file.ToArray()));
        Assert.Equal("210mm", svg.Root!.Attribute("width")!.Value);
        Assert.Equal("0 0 210 297", svg.Root.Attribute("viewBox")!.Value);
        Assert.Equal(18, svg.Root.Elements().Count(e => e.Attribute("width")?.Value == "36" && e.Attribute("height")?.Value == "36"));
    }

    /// <summary>The cards that lie ready in calibration/ are these very drawings.</summary>
    [Theory]
    [InlineData('A', Paper.A4, "a4")]
    [InlineData('E', Paper.Letter, "letter")]
    public void ReadyMadeCardsLieInTheRepository(char letter, Paper paper, string name)
    {
        using MemoryStream drawn = new();
        CardDrawing.WritePdf(letter, paper, drawn);
        string path = Path.Combine(Repository.Root, "calibration", $"card-{letter}-{name}.pdf");
        Assert.Equal(Boxes(drawn.ToArray()), Boxes(File.ReadAllBytes(path)));

        static string[] Boxes(byte[] pdf)
        {
            using PdfDocument document = PdfDocument.Open(pdf);
            return [document.GetPage(1).Text, .. document.GetPage(1).Paths.Select(p => p.GetBoundingRectangle()).OfType<PdfRectangle>().Select(r => $"{r.Left:0.00} {r.Bottom:0.00} {r.Width:0.00} {r.Height:0.00}")];
        }
    }

    private static Mat DrawPng(char letter, Paper paper)
    {
        using MemoryStream file = new();
        CardDrawing.WritePng(letter, paper, file);
        return Cv2.ImDecode(file.ToArray(), ImreadModes.Grayscale);
    }

    private static PdfRectangle[] OfSize(PdfRectangle[] boxes, double mm) =>
        [.. boxes.Where(b => Math.Abs((b.Width * MmPerPoint) - mm) < 0.01 && Math.Abs((b.Height * MmPerPoint) - mm) < 0.01)];

    private static bool OnGrid(double mm, double pitchMm) => Math.Abs(mm - (pitchMm * Math.Round(mm / pitchMm))) < 0.01;
}
