using System.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// One block's step of the path search: the best way into every (rise, level) from the block before. States lie rise after rise, so that
/// a rise's levels are handled several at a time.
/// </summary>
/// <param name="levels">Levels of the band.</param>
/// <param name="rises">Rises over a block, least to most; at most 255.</param>
/// <param name="turnSign">+1 where the line turns at a ring towards smaller rises, else -1.</param>
internal sealed class PathStep(int levels, int rises, double turnSign)
{
    /// <summary>Stands for "the path starts here" in the sources.</summary>
    public const byte Start = 255;

    private const float KinkCost = 5;
    private const float Never = -1e9f;

    private readonly float[] _entry = new float[levels];
    private readonly float[] _entryFrom = new float[levels];
    private readonly float[] _running = new float[levels];
    private readonly float[] _runningFrom = new float[levels];
    private float[] _best = Filled(levels * rises);
    private float[] _next = Filled(levels * rises);

    /// <summary>Steps over a block; gives for every state the rise of the block before that it came from.</summary>
    /// <param name="evidence">The blocks' scores.</param>
    /// <param name="block">The block.</param>
    /// <param name="drift">By how much a straight line's rise changes on the way in.</param>
    /// <param name="start">Levels at which the path may start in this block, first to last.</param>
    public byte[] Over(BlockEvidence evidence, int block, double drift, (int From, int To) start)
    {
        byte[] from = new byte[levels * rises];
        Array.Fill(_next, Never);
        Array.Fill(_running, Never);
        int settled = turnSign > 0 ? 0 : rises - 1;
        for (int i = 0; i < rises; i++)
        {
            int r = turnSign > 0 ? i : rises - 1 - i;
            int straight = (int)Math.Round(r - drift);
            Array.Fill(_entry, Never);
            for (int p = Math.Max(0, straight - 1); p <= Math.Min(rises - 1, straight + 1); p++)
            {
                double off = r - drift - p;
                Raise(_entry, _entryFrom, Of(_best, p), (float)(-1.5 * off * off), p);
            }

            // Rises at least two levels short of straight, in the turning direction: a ring.
            int reach = turnSign > 0 ? straight - 2 : straight + 2;
            for (; turnSign > 0 ? settled <= reach && settled < rises : settled >= reach && settled >= 0; settled += turnSign > 0 ? 1 : -1)
                Raise(_running, _runningFrom, Of(_best, settled), 0, settled);
            RaiseRunning();
            Leave(evidence, block, r, start, from);
        }

        (_best, _next) = (_next, _best);
        return from;
    }

    /// <summary>The best score and its state after the last step.</summary>
    public (float Score, int State) Top()
    {
        int at = 0;
        for (int i = 1; i < _best.Length; i++)
        {
            if (_best[i] > _best[at])
                at = i;
        }

        return (_best[at], at);
    }

    private void Leave(BlockEvidence evidence, int block, int r, (int From, int To) start, byte[] from)
    {
        for (int l = Math.Max(0, start.From); l <= Math.Min(start.To, levels - 1); l++)
        {
            if (_entry[l] < 0)
                (_entry[l], _entryFrom[l]) = (0, Start);
        }

        int rise = r - evidence.MaxRise;
        int first = Math.Max(0, -rise);
        int count = Math.Min(levels, levels - rise) - first;
        if (count <= 0)
            return;
        Span<float> next = Of(_next, r).Slice(first + rise, count);
        _entry.AsSpan(first, count).CopyTo(next);
        Spans.Add(next, evidence.Scores(block, rise).Slice(first, count));
        Span<byte> source = from.AsSpan((r * levels) + first + rise, count);
        ReadOnlySpan<float> entryFrom = _entryFrom.AsSpan(first, count);
        for (int l = 0; l < count; l++)
            source[l] = (byte)entryFrom[l];
    }

    private void RaiseRunning()
    {
        int width = Vector<float>.Count;
        Vector<float> cost = new(KinkCost);
        int l = 0;
        for (; l <= levels - width; l += width)
        {
            Vector<float> now = new(_entry.AsSpan(l));
            Vector<float> kink = new Vector<float>(_running.AsSpan(l)) - cost;
            Vector<int> better = Vector.GreaterThan(kink, now);
            Vector.ConditionalSelect(better, kink, now).CopyTo(_entry.AsSpan(l));
            Vector.ConditionalSelect(better, new Vector<float>(_runningFrom.AsSpan(l)), new Vector<float>(_entryFrom.AsSpan(l))).CopyTo(_entryFrom.AsSpan(l));
        }

        for (; l < levels; l++)
        {
            if (_running[l] - KinkCost > _entry[l])
                (_entry[l], _entryFrom[l]) = (_running[l] - KinkCost, _runningFrom[l]);
        }
    }

    private static void Raise(float[] best, float[] bestFrom, ReadOnlySpan<float> before, float added, int rise)
    {
        int width = Vector<float>.Count;
        Vector<float> more = new(added);
        Vector<float> source = new(rise);
        int l = 0;
        for (; l <= best.Length - width; l += width)
        {
            Vector<float> now = new(best.AsSpan(l));
            Vector<float> value = new Vector<float>(before[l..]) + more;
            Vector<int> better = Vector.GreaterThan(value, now);
            Vector.ConditionalSelect(better, value, now).CopyTo(best.AsSpan(l));
            Vector.ConditionalSelect(better, source, new Vector<float>(bestFrom.AsSpan(l))).CopyTo(bestFrom.AsSpan(l));
        }

        for (; l < best.Length; l++)
        {
            if (before[l] + added > best[l])
                (best[l], bestFrom[l]) = (before[l] + added, rise);
        }
    }

    private Span<float> Of(float[] states, int rise) => states.AsSpan(rise * levels, levels);

    private static float[] Filled(int count)
    {
        float[] values = new float[count];
        Array.Fill(values, Never);
        return values;
    }
}
