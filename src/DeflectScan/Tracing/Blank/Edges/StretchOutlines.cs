namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Reads a bar's outlines profile by profile against how it looks over the stretch about each: what the outline is, the stretch decides;
/// where it lies, each profile.
/// </summary>
internal sealed class StretchOutlines
{
    private const double StretchMm = 110;
    private const double ThickPx = 2; // half width above which each side is read by itself
    private const int FewestStations = 6;

    private readonly ProfileBand _band;
    private readonly double[] _middle;
    private readonly double[] _radius;
    private readonly double _pxMm;
    private readonly double _blurMm;
    private readonly int _used;
    private readonly double _spacing;
    private readonly Node?[] _nodes;

    /// <param name="band">Profiles.</param>
    /// <param name="blurPx">Blur of edges, sigma in px of the photo.</param>
    /// <param name="middleMm">Supposed middle at each station, mm.</param>
    /// <param name="radiusMm">Supposed half width at each station, mm.</param>
    /// <param name="used">How many of the first stations show the bar for certain: the look is taken from them.</param>
    public StretchOutlines(ProfileBand band, double blurPx, double[] middleMm, double[] radiusMm, int used)
    {
        _band = band;
        _middle = middleMm;
        _radius = radiusMm;
        _used = used;
        _pxMm = 2 * band.StepMm * Math.Max(1, blurPx / EdgeFinder.SharpPx);
        _blurMm = blurPx * 2 * band.StepMm;
        int count = band.Stations.Count;
        _spacing = count > 1 ? (band.Stations[^1] - band.Stations[0]) / (count - 1) : 1;
        double length = _spacing * Math.Max(1, used - 1);
        _nodes = new Node?[Math.Max(1, (int)Math.Round(2 * length / StretchMm))];
    }

    /// <summary>Both outlines of every profile that is seen. The stretches are read side by side: a look is its stretch's own.</summary>
    public BarEdges[] ReadAll()
    {
        BarEdges[] edges = new BarEdges[_band.Stations.Count];
        ILookup<int, int> seen = Enumerable.Range(0, edges.Length).Where(i => _band.Seen[i]).ToLookup(NodeOf);
        Parallel.ForEach(seen, stretch =>
        {
            foreach (int station in stretch)
                edges[station] = Read(station);
        });
        return edges;
    }

    /// <summary>Both outlines of one profile. Not for two callers at once.</summary>
    public BarEdges Read(int station)
    {
        int at = NodeOf(station);
        Node node = _nodes[at] ??= Look(at);
        double m = _middle[station];
        double r = _radius[station];
        if (node.Thin is { } bar)
        {
            (double moved, double noise) = bar.Read(station, m);
            double wider = r - node.RadiusMm;
            return new BarEdges(m + moved + bar.LeftMm + wider, m + moved + bar.RightMm - wider, noise, noise, bar.MovedMm.Left, bar.MovedMm.Right);
        }

        (double left, double leftNoise) = node.Left!.Read(station, m + r);
        (double right, double rightNoise) = node.Right!.Read(station, m - r);
        return new BarEdges(left, right, leftNoise, rightNoise, node.Left.MovedMm, node.Right.MovedMm);
    }

    private int NodeOf(int station) => Math.Min(_nodes.Length - 1, (int)((double)Math.Min(station, _used - 1) * _nodes.Length / _used));

    private Node Look(int at)
    {
        int wide = Math.Max(FewestStations, (int)(StretchMm / _spacing));
        int centre = (int)((at + 0.5) * _used / _nodes.Length);
        int first = Math.Max(0, Math.Min(centre - (wide / 2), _used - wide));
        List<int> stations = [];
        for (int i = first; i < Math.Min(_used, first + wide); i++)
        {
            if (_band.Seen[i])
                stations.Add(i);
        }

        if (stations.Count == 0)
            stations.Add(centre);
        double radius = _radius[stations[stations.Count / 2]];
        if (radius <= ThickPx * _pxMm)
            return new Node(radius, null, null, BarLook.Of(_band, stations, [.. stations.Select(i => _middle[i])], radius, _pxMm, _blurMm));
        return new Node(
            radius,
            EdgeLook.Of(_band, stations, [.. stations.Select(i => _middle[i] + _radius[i])], 1, radius, _pxMm, _blurMm),
            EdgeLook.Of(_band, stations, [.. stations.Select(i => _middle[i] - _radius[i])], -1, radius, _pxMm, _blurMm),
            null);
    }

    private sealed record Node(double RadiusMm, EdgeLook? Left, EdgeLook? Right, BarLook? Thin);
}

/// <summary>Both outlines of one profile, offsets in mm, their misfits as shares of the step, and how far shade moved them outward.</summary>
internal readonly record struct BarEdges(double Left, double Right, double LeftNoise, double RightNoise, double LeftMoved, double RightMoved);
