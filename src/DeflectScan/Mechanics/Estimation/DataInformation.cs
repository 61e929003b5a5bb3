using DeflectScan.Geometry;

namespace DeflectScan.Mechanics.Estimation;

/// <summary>
/// What the measured points alone say of the stiffness of one stretch, a twentieth of the length: were all the rest of the profile known,
/// how well would they fix it? A change of ln EI there by one turns the part beyond by (bending curvature × stretch); Fisher information
/// of that displacement after the photo's own shift and turn are taken out.
/// </summary>
internal static class DataInformation
{
    private const double Stretch = 0.05;

    /// <returns>One standard deviation of ln EI at each station, all photos together; infinite where nothing bends.</returns>
    public static double[] SdOfLogStiffness(IReadOnlyList<double> stations, ShapeFit fit, double[] x)
    {
        double[] information = new double[stations.Count];
        for (int c = 0; c < fit.Cases.Count; c++)
        {
            if (!fit.Cases[c].Measured.IsAtRest)
                Add(information, stations, fit.Cases[c], fit.Cases[c].Trace(x, fit.Unknowns, c), x, fit.Unknowns);
        }

        return [.. information.Select(i => 1 / Math.Sqrt(i))];
    }

    private static void Add(
        double[] information, IReadOnlyList<double> stations, FitCase fitted, TangentTrace trace, double[] x, Unknowns u)
    {
        int points = fitted.Rows - 1;
        int width = 3 + stations.Count;
        double[] rows = new double[points * width];
        double length = fitted.Start.LengthMm;
        Vec2[] places = [.. stations.Select(s => fitted.PlaceAt(trace, s))];
        double[] turns = [.. stations.Select(s => Stretch * length * fitted.BendingCurvature(trace, s, x, u))];
        for (int i = 0; i < points; i++)
        {
            double s = fitted.Nearest[i];
            Vec2 p = fitted.PlaceAt(trace, s);
            Vec2 n = FitCase.Normal(fitted.AngleAt(trace, s));
            Span<double> row = rows.AsSpan(i * width, width);
            row[0] = n.X;
            row[1] = n.Y;
            row[2] = n.Dot(p.Perpendicular) / length;
            for (int k = 0; k < stations.Count; k++)
                row[3 + k] = s < stations[k] ? turns[k] * n.Dot((p - places[k]).Perpendicular) : 0;
        }

        fitted.Whiten(rows, width);
        TakeOutFirstThree(rows, points, width);
        for (int i = 0; i < points; i++)
        {
            for (int k = 0; k < stations.Count; k++)
                information[k] += rows[(i * width) + 3 + k] * rows[(i * width) + 3 + k];
        }
    }

    // Gram-Schmidt: makes every column orthogonal to the first three.
    private static void TakeOutFirstThree(double[] rows, int points, int width)
    {
        for (int a = 0; a < 3; a++)
        {
            double norm = 0;
            for (int i = 0; i < points; i++)
                norm += rows[(i * width) + a] * rows[(i * width) + a];
            for (int k = a + 1; k < width; k++)
            {
                double dot = 0;
                for (int i = 0; i < points; i++)
                    dot += rows[(i * width) + a] * rows[(i * width) + k];
                double share = dot / norm;
                for (int i = 0; i < points; i++)
                    rows[(i * width) + k] -= share * rows[(i * width) + a];
            }
        }
    }
}
