namespace DeflectScan.Tracing.Blank;

/// <summary>
/// How strong a step every profile of a band shows at every place where the outline on one side of a bar may lie. Where a thin thing runs beside
/// the bar, its own steps are left off.
/// </summary>
internal sealed class OutlineSteps
{
    private const double GridStep = 0.04; // of the supposed half width
    private const double Nearest = 0.4; // where an outline may lie, in supposed half widths
    private const double StepShare = 0.3; // of the distance from the middle: a step is told over that much, so that a line beside the bar is none
    private const int BeyondPx = 3; // that far outside the places a thin thing is looked for, too
    private const double BesideShare = 0.2; // of a profile's strongest step: a lesser one is not asked whether it is a thin thing

    private readonly ProfileBand _band;
    private readonly EdgeFinder _finder;
    private readonly int _side;
    private readonly double[]?[] _steps;

    /// <param name="band">Profiles.</param>
    /// <param name="finder">Reader of those profiles.</param>
    /// <param name="path">Supposed middle at every station, mm.</param>
    /// <param name="radiusMm">Supposed half width at every station, mm.</param>
    /// <param name="side">+1: the outline on the normal's side.</param>
    /// <param name="farthest">Where an outline may lie at most, in supposed half widths.</param>
    /// <param name="beside">Whether a thin thing runs there; null: to be found out.</param>
    public OutlineSteps(ProfileBand band, EdgeFinder finder, double[] path, double[] radiusMm, int side, double farthest, bool? beside = null)
    {
        (_band, _finder, _side) = (band, finder, side);
        Places = (int)Math.Round((farthest - Nearest) / GridStep) + 1;
        _steps = new double[path.Length][];
        double[]?[] freed = new double[path.Length][];
        int seen = 0;
        int gaps = 0; // profiles that show one
        int clear = 0; // those of them that show the background itself there
        for (int i = 0; i < path.Length; i++)
        {
            if (!band.Seen[i])
                continue;
            finder.Look(i);
            seen++;
            _steps[i] = Steps(path[i], radiusMm[i]);
            freed[i] = Freed(_steps[i]!, i, path[i], radiusMm[i], out bool isClear);
            gaps += freed[i] is null ? 0 : 1;
            clear += isClear ? 1 : 0;
        }

        // A line runs beside the whole bar, and the background itself shows between them: where one was taken for the outline of rendered blanks,
        // seven to nine profiles in ten had a gap, and in six of ten of those it was the background's own colour. Gloss and shade on a bar come
        // near that colour in places, by chance (at most four in ten had it), and where the bar is thick the rim outside them is no thin thing.
        Beside = beside ?? (2 * gaps > seen && 2 * clear > gaps);
        for (int i = 0; Beside && i < path.Length; i++)
            _steps[i] = freed[i] ?? _steps[i];
    }

    /// <summary>A thin thing runs beside the bar on this side.</summary>
    public bool Beside { get; }

    /// <summary>How many places are looked at.</summary>
    public int Places { get; }

    /// <summary>Where a place lies, in supposed half widths from the middle.</summary>
    public static double Out(int place) => Nearest + (place * GridStep);

    /// <summary>Strengths summed over a stretch of stations: every profile has one vote, so that bright surroundings do not outweigh dark ones.</summary>
    public double[] Votes(int first, int last)
    {
        double[] sum = new double[Places];
        for (int i = first; i < last; i++)
        {
            if (_steps[i] is not { } own)
                continue;
            double most = Math.Max(1e-6, own.Max());
            for (int k = 0; k < Places; k++)
                sum[k] += own[k] / most;
        }

        return sum;
    }

    private double[] Steps(double middle, double radius)
    {
        double[] own = new double[Places];
        for (int k = 0; k < own.Length; k++)
            own[k] = Step(middle, Out(k) * radius, Reach(Out(k) * radius));
        return own;
    }

    // What lies outside a thin thing's gap is not the bar: its steps do not count, nor is it the outside of one. Null where there is none.
    private double[]? Freed(double[] steps, int station, double middle, double radius, out bool clear)
    {
        clear = false;
        double[]? own = null;
        double least = BesideShare * steps.Max();
        // Of a thing at the end of the search only the inner side shows among the steps.
        for (int px = BeyondPx; px > 0 && own is null; px--)
            own = Without(steps, station, middle, radius, (Out(steps.Length - 1) * radius) + (2 * px * _band.StepMm), ref clear);
        for (int k = steps.Length - 2; k > 0; k--)
        {
            double[] now = own ?? steps;
            if (now[k] >= least && now[k] >= now[k + 1] && now[k] >= now[k - 1])
                own = Without(now, station, middle, radius, Out(k) * radius, ref clear) ?? own;
        }

        return own;
    }

    private double[]? Without(double[] steps, int station, double middle, double radius, double edgeMm, ref bool clear)
    {
        if (ThinBeside.Gap(_band, station, middle + (_side * edgeMm), _side, edgeMm, radius) is not { } found)
            return null;
        clear |= found.IsBackground;
        double gap = edgeMm - found.InwardMm;
        double[] own = [.. steps];
        for (int i = own.Length - 1; i >= 0 && (Out(i) * radius) + Reach(Out(i) * radius) > gap; i--)
        {
            double outMm = Out(i) * radius;
            own[i] = outMm > gap - (2 * _band.StepMm) ? 0 : Step(middle, outMm, gap - outMm);
        }

        return own;
    }

    private double Reach(double outMm) => Math.Max(3 * _band.StepMm, StepShare * outMm);

    private double Step(double middle, double outMm, double outsideMm)
    {
        double at = middle + (_side * outMm);
        return (_finder.Between(at, at + (_side * outsideMm)).Tone - _finder.Between(at - (_side * Reach(outMm)), at).Tone).Length;
    }
}
