using System.Globalization;
using System.Text;

namespace DeflectScan.Pictures;

/// <summary>How to set up the photo, drawn by code: what the camera should see, and the same from above.</summary>
internal static class SetUpDrawing
{
    private const string Axis = "#2456C8";
    private const string Quiet = "#5B6772";

    /// <summary>The picture that the camera should see.</summary>
    public static string Side()
    {
        SvgPage page = new(960, 724);
        page.Text(24, 36, "What the photo should show", 22, bold: true);
        page.Rect(40, 60, 880, 490, "#ECE8DD", Quiet);
        page.Line(40, 500, 920, 500, Quiet, 2);

        // The blank: a bend that grows towards the tip; the line under it through five rings.
        (double X, double Y)[] rod = [.. Enumerable.Range(0, 61).Select(i => Bend(i / 60.0))];
        page.Rect(142, 452, 34, 48, "#C4CDD6", Quiet);
        page.Path(Through(rod[..12]), "#101820", 10);
        page.Path(Through(rod), Axis, 4);
        int[] rings = [24, 33, 41, 48, 54];
        List<(double X, double Y)> line = [];
        foreach (int i in rings)
        {
            (double x, double y) = rod[i];
            (double dx, double dy) = (rod[i + 1].X - rod[i - 1].X, rod[i + 1].Y - rod[i - 1].Y);
            double n = Math.Sqrt((dx * dx) + (dy * dy));
            double tall = 10 + ((54 - i) * 0.35);
            (double X, double Y) ring = (x - (dy / n * tall), y + (dx / n * tall));
            page.Line(x, y, ring.X, ring.Y, "#101820", 1.5);
            page.Circle(ring.X, ring.Y, 4, "#F6F4EE");
            line.Add(ring);
        }

        (double tipX, double tipY) = rod[^1];
        line.Insert(0, (232, 424));
        page.Circle(228, 428, 15, "#C4CDD6");
        line.Add((tipX, tipY + 5));
        page.Path(Through([.. line]), "#8E0F4E", 1.6);
        page.Line(tipX, tipY + 5, tipX, tipY + 46, "#8E0F4E", 1.6);
        page.Rect(tipX - 4, tipY + 46, 8, 18, "#5B6772");
        page.Line(tipX, tipY, tipX - 42, 500, "#101820", 2, "7 4");
        page.Rect(tipX - 56, 492, 28, 10, "#5B6772");

        page.Card(300, 150, 62, -5);
        page.Line(331, 240, 331, 500, Quiet, 3);
        page.Card(838, 330, 56, 6);
        page.Line(866, 412, 866, 500, Quiet, 3);

        page.Number(1, 70, 92);
        page.Number(2, 176, 436);
        page.Number(3, 262, 190);
        page.Number(3, 896, 440);
        page.Number(4, tipX - 76, 440);
        page.Number(5, tipX + 28, tipY + 40);
        page.Number(6, 560, 300);
        page.Number(7, 70, 300);
        page.Path("M62 330 l46 34 m-14 -3 l14 3 l-4 -14", "#B58A00", 3);
        page.Remarks(
            594,
            "the whole rod in the picture, room on every side",
            "handle clamped firmly",
            "cards in the plane that the rod bends in",
            "cord to a sound anchor, clear of the rod",
            "a light weight keeps the line taut",
            "plain wall, far behind the rod",
            "even light from the side, no flash");
        return page.ToString();
    }

    /// <summary>Camera, cards and rod from above.</summary>
    public static string Above()
    {
        SvgPage page = new(960, 610);
        page.Text(24, 36, "The same from above", 22, bold: true);
        page.Rect(60, 60, 840, 16, "#C4CDD6");
        page.Line(110, 190, 850, 190, Quiet, 1.4, "10 6");
        page.Line(150, 190, 760, 190, Axis, 6);
        page.Rect(330, 184, 66, 5, "#FFFFFF", "#101820");
        page.Rect(790, 184, 58, 5, "#FFFFFF", "#101820");
        page.Number(1, 455, 190);
        page.Number(1, 363, 164);
        page.Number(1, 819, 164);
        page.Path("M110 84 v96 m-6 -86 l6 -10 l6 10 m-12 76 l6 10 l6 -10", Quiet, 1.5);
        page.Number(2, 110, 132);
        page.Path("M480 430 L130 204 M480 430 L850 204", Quiet, 1.2, "4 5");
        page.Line(480, 414, 480, 204, "#101820", 1.5);
        page.Path("M468 204 v12 h12", "#101820", 1.5);
        page.Number(3, 480, 300);
        page.Rect(454, 416, 52, 30, "#101820");
        page.Rect(468, 406, 24, 10, "#101820");
        page.Number(4, 536, 430);
        page.Path("M60 392 L150 300 M60 430 L196 330", "#B58A00", 3);
        page.Circle(48, 414, 15, "#FFE066");
        page.Number(5, 96, 438);
        page.Remarks(
            500,
            "rod (blue) and cards stand in one plane",
            "as far from the wall as the room allows",
            "camera square to that plane, at mid height",
            "main camera (1×), far enough for the whole rod",
            "light from the side, shadows off the rod");
        return page.ToString();
    }

    /// <summary>A blank's bend: the turning grows with the square of the way to the tip, 95 degrees in all.</summary>
    private static (double X, double Y) Bend(double share)
    {
        (double x, double y) = (150.0, 470.0);
        const int Steps = 200;
        const double Length = 830;
        for (int i = 0; i < Steps * share; i++)
        {
            double t = (i + 0.5) / Steps;
            double angle = (50 - (95 * t * t)) * Math.PI / 180;
            x += Length / Steps * Math.Cos(angle);
            y -= Length / Steps * Math.Sin(angle);
        }

        return (x, y);
    }

    private static string Through((double X, double Y)[] points)
    {
        StringBuilder d = new();
        foreach ((double x, double y) in points)
            d.Append(CultureInfo.InvariantCulture, $"{(d.Length == 0 ? 'M' : 'L')}{x:0.#} {y:0.#} ");
        return d.ToString().TrimEnd();
    }
}
