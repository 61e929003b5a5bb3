namespace DeflectScan.Tracing.Reading;

/// <summary>
/// From the network's places to a rod's rings: of all chains of places that can be a rod's guides, the most probable one, and the probability of each
/// place. Exact, by dynamic programming forwards and backwards over the places in their order (Rabiner 1989, from memory).
/// </summary>
internal static class RingDecoder
{
    /// <summary>Places below these log-odds are not looked at: 0.7 %.</summary>
    public const double LeastLogOdds = -5;

    /// <summary>Guides stand on feet: no two are nearer to each other than this, mm (common practice, no source).</summary>
    public const double ClosestMm = 22;

    /// <summary>Nothing so near to the tip-top's ring is a guide, mm (common practice, no source).</summary>
    private const double FromTipMm = 22;

    /// <summary>Rings grow towards the reel (common practice, no source): a ring higher than the next one towards the reel costs this log-odds a mm beyond the slack.</summary>
    private const double DisorderCost = 0.5;
    private const double DisorderSlackMm = 2;
    private const double DisorderSlackShare = 0.12;

    /// <summary>
    /// The side is not believed more surely than it was seen to be right, on all of 321 scenes that were not trained on (Laplace's rule of succession: wrong once in
    /// 323). The rings say the rest.
    /// </summary>
    private const double MostSideLogOdds = 5.77;

    /// <summary>The same for the tip-top, of which there is just one.</summary>
    private const double LeastTipLogOdds = -2;

    /// <summary>A guide read so near the tip-top's ring, mm each way, may be what was taken for it; less likely than this (log-odds) it is not looked at.</summary>
    private const double TipIsGuideMm = 12;
    private const double LeastTipIsGuide = -7;

    /// <summary>How far from the axis' end the tip-top's ring may lie, mm.</summary>
    private const double TipReachMm = 45;
    private const double TipAcrossMm = 16;

    /// <summary>The rings of a reading.</summary>
    /// <param name="reading">What the network says.</param>
    /// <param name="side">True: inside, false: outside, as a person said; null: not known.</param>
    /// <param name="handleStation">Where the bare blank ends, mm from the axis' end.</param>
    /// <param name="line">What the line says of a place besides, log-odds; null: it was not measured yet.</param>
    public static DecodedRings Decode(StripReading reading, bool? side, double handleStation, Func<RingCandidate, double>? line = null)
    {
        RingCandidate? tip = Peaks.Of(reading, reading.Tip, LeastTipLogOdds)
            .FirstOrDefault(p => Math.Abs(p.Station) < TipReachMm && Math.Abs(p.HeightMm) < TipAcrossMm);
        double guide = tip is null ? double.NegativeInfinity : Peaks.Of(reading, reading.Ring, LeastTipIsGuide)
            .Where(p => Math.Abs(p.Station - tip.Station) < TipIsGuideMm && Math.Abs(p.HeightMm - tip.HeightMm) < TipIsGuideMm).Max(p => (double?)p.LogOdds) ?? double.NegativeInfinity;
        double first = (tip?.Station ?? 0) + FromTipMm;
        List<RingCandidate> all = [.. Peaks.Of(reading, reading.Ring, LeastLogOdds).Where(p => p.Station > first && p.Station < handleStation).OrderBy(p => p.Station)];
        if (line is not null)
            all = all.ConvertAll(p => p with { LogOdds = p.LogOdds + line(p) });
        Chains inside = new([.. all.Where(p => p.HeightMm > 0)], inside: true);
        Chains outside = new([.. all.Where(p => p.HeightMm < 0)], inside: false);
        double read = Math.Clamp(reading.InsideLogOdds, -MostSideLogOdds, MostSideLogOdds);
        double insideLog = side is false ? double.NegativeInfinity : inside.LogSum + Math.Min(0, read);
        double outsideLog = side is true ? double.NegativeInfinity : outside.LogSum + Math.Min(0, -read);
        bool isInside = insideLog >= outsideLog;
        Chains chosen = isInside ? inside : outside;
        double sideProbability = 1 / (1 + Math.Exp((isInside ? outsideLog : insideLog) - (isInside ? insideLog : outsideLog)));
        return new DecodedRings(isInside, chosen.Best, tip, sideProbability, [.. chosen.Places.Zip(chosen.Marginals, (p, m) => new WeighedPlace(p, chosen.Best.Contains(p), m))]) { TipIsGuide = 1 / (1 + Math.Exp(-guide)) };
    }

    /// <summary>All chains of places on one side.</summary>
    private sealed class Chains
    {
        private readonly bool _inside;
        private readonly double[] _forward;
        private readonly double[] _backward;

        public Chains(IReadOnlyList<RingCandidate> places, bool inside)
        {
            Places = places;
            _inside = inside;
            int n = places.Count;
            _forward = new double[n];
            _backward = new double[n];
            double[] best = new double[n];
            int[] before = new int[n];
            for (int j = 0; j < n; j++)
            {
                (double sum, double top, int from) = (0, 0, -1);
                for (int i = 0; i < j; i++)
                {
                    if (!Follows(i, j))
                        continue;
                    double cost = Disorder(i, j);
                    sum = LogAdd(sum, _forward[i] - cost);
                    if (best[i] - cost > top)
                        (top, from) = (best[i] - cost, i);
                }

                _forward[j] = sum + places[j].LogOdds;
                (best[j], before[j]) = (top + places[j].LogOdds, from);
            }

            for (int i = n - 1; i >= 0; i--)
            {
                double sum = 0;
                for (int j = i + 1; j < n; j++)
                {
                    if (Follows(i, j))
                        sum = LogAdd(sum, places[j].LogOdds + _backward[j] - Disorder(i, j));
                }

                _backward[i] = sum;
            }

            LogSum = _forward.Aggregate(0.0, LogAdd);
            int last = n == 0 ? -1 : Array.IndexOf(best, best.Max());
            double bestLog = last < 0 || best[last] < 0 ? 0 : best[last];
            List<RingCandidate> chain = [];
            for (int j = bestLog > 0 ? last : -1; j >= 0; j = before[j])
                chain.Add(places[j]);
            chain.Reverse();
            Best = chain;
            Marginals = [.. Enumerable.Range(0, n).Select(i => Math.Exp(_forward[i] + _backward[i] - LogSum))];
        }

        public IReadOnlyList<RingCandidate> Places { get; }

        public IReadOnlyList<RingCandidate> Best { get; }

        /// <summary>Logarithm of the sum over all chains, the empty one counting as 1.</summary>
        public double LogSum { get; }

        /// <summary>Of each place.</summary>
        public IReadOnlyList<double> Marginals { get; }

        private bool Follows(int i, int j) => Places[j].Station - Places[i].Station >= ClosestMm;

        private double Disorder(int nearTip, int nearReel)
        {
            double sign = _inside ? 1 : -1;
            double excess = (sign * Places[nearTip].HeightMm) - ((1 + DisorderSlackShare) * sign * Places[nearReel].HeightMm) - DisorderSlackMm;
            return DisorderCost * Math.Max(0, excess);
        }

        private static double LogAdd(double a, double b)
        {
            double most = Math.Max(a, b);
            return most + Math.Log(Math.Exp(a - most) + Math.Exp(b - most));
        }
    }
}
