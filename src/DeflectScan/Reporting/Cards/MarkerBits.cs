using DeflectScan.Calibration.Cards;
using OpenCvSharp;
using OpenCvSharp.Aruco;

namespace DeflectScan.Reporting.Cards;

/// <summary>The white cells of a marker, from OpenCV's own dictionary.</summary>
internal static class MarkerBits
{
    private const double CellMm = ScaleCard.MarkerMm / ScaleCard.MarkerCells;

    /// <summary>
    /// White boxes in mm from the marker's top-left. Runs along rows and along columns overlap, so that no hairline shows between cells
    /// in a viewer that smooths edges.
    /// </summary>
    public static IReadOnlyList<SheetBox> WhiteRuns(int markerId)
    {
        bool[,] white = Cells(markerId);
        List<SheetBox> runs = [];
        for (int line = 0; line < ScaleCard.MarkerCells; line++)
        {
            foreach ((int from, int count) in Runs(i => white[line, i]))
                runs.Add(new SheetBox(from * CellMm, line * CellMm, count * CellMm, CellMm, false));
            foreach ((int from, int count) in Runs(i => white[i, line]))
            {
                if (count > 1)
                    runs.Add(new SheetBox(line * CellMm, from * CellMm, CellMm, count * CellMm, false));
            }
        }

        return runs;
    }

    /// <summary>Row by row from the top-left, border included.</summary>
    public static bool[,] Cells(int markerId)
    {
        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict4X4_100);
        using Mat image = new();
        dictionary.GenerateImageMarker(markerId, ScaleCard.MarkerCells, image, 1);
        bool[,] white = new bool[ScaleCard.MarkerCells, ScaleCard.MarkerCells];
        for (int y = 0; y < ScaleCard.MarkerCells; y++)
        {
            for (int x = 0; x < ScaleCard.MarkerCells; x++)
                white[y, x] = image.At<byte>(y, x) > 127;
        }

        return white;
    }

    private static IEnumerable<(int From, int Count)> Runs(Func<int, bool> isWhite)
    {
        int from = -1;
        for (int i = 0; i <= ScaleCard.MarkerCells; i++)
        {
            bool white = i < ScaleCard.MarkerCells && isWhite(i);
            if (white && from < 0)
                from = i;
            if (!white && from >= 0)
            {
                yield return (from, i - from);
                from = -1;
            }
        }
    }
}
