using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Photos;

namespace DeflectScan.Web.Pictures;

/// <summary>
/// From photo px to the document's mm on a grid over the photo, for the page's own geometry: the page interpolates by cubic convolution (Keys 1981,
/// "Cubic convolution interpolation for digital image processing"), which between these nodes errs by far less than 0.01 mm.
/// </summary>
/// <param name="X0">Photo x of the first column; one step outside the photo, so that every place in it has four columns around it.</param>
/// <param name="Y0">Photo y of the first row.</param>
/// <param name="StepPx">Spacing of the nodes.</param>
/// <param name="Columns">Nodes a row.</param>
/// <param name="Rows">Rows.</param>
/// <param name="Mm">x, y of every node, row by row, rounded to 0.1 µm.</param>
internal sealed record PlaneGrid(double X0, double Y0, double StepPx, int Columns, int Rows, double[] Mm)
{
    private const int Steps = 40;

    public static PlaneGrid Of(Measurement m, RodPlane plane, PhotoInfo photo)
    {
        double step = Math.Max(photo.WidthPx, photo.HeightPx) / (double)Steps;
        int columns = (int)Math.Ceiling(photo.WidthPx / step) + 3;
        int rows = (int)Math.Ceiling(photo.HeightPx / step) + 3;
        Vec2 tip = plane.ToPlane(m.Blank!.Axis[0].Px) - m.Blank.Axis[0].Mm;
        double[] mm = new double[2 * columns * rows];
        for (int i = 0; i < columns * rows; i++)
        {
            Vec2 at = plane.ToPlane(new Vec2(((i % columns) - 1) * step, ((i / columns) - 1) * step)) - tip;
            (mm[2 * i], mm[(2 * i) + 1]) = (Math.Round(at.X, 4), Math.Round(at.Y, 4));
        }

        return new PlaneGrid(-step, -step, step, columns, rows, mm);
    }
}
