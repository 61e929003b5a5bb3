namespace DeflectScan.Web.Measuring;

/// <summary>
/// Photos waiting for the one thread that measures: the library works with every core by itself, so that two at once would only both be late.
/// Corrections go before new photos, and so do the quick checks of a class's photos: somebody waits for them.
/// </summary>
internal sealed class Queue : IDisposable
{
    private readonly LinkedList<BenchPhoto> _waiting = new();
    private readonly LinkedList<BenchPhoto> _urgent = new();
    private readonly Action<BenchPhoto> _measure;
    private readonly Thread _thread;
    private bool _ends;

    public Queue(Action<BenchPhoto> measure)
    {
        _measure = measure;
        _thread = new Thread(Work) { IsBackground = true, Name = "measuring" };
        _thread.Start();
    }

    public int Count
    {
        get
        {
            lock (_waiting)
                return _waiting.Count + _urgent.Count;
        }
    }

    public void Add(BenchPhoto photo, bool first)
    {
        lock (_waiting)
        {
            _waiting.Remove(photo);
            _urgent.Remove(photo);
            (first ? _urgent : _waiting).AddLast(photo);
            Monitor.Pulse(_waiting);
        }
    }

    /// <summary>Ends after the photo in hand, which its owner has cancelled; what waits is measured at the next start.</summary>
    public void Dispose()
    {
        lock (_waiting)
        {
            _ends = true;
            Monitor.Pulse(_waiting);
        }

        _thread.Join(TimeSpan.FromSeconds(30));
    }

    private void Work()
    {
        while (true)
        {
            BenchPhoto next;
            lock (_waiting)
            {
                while (_waiting.Count + _urgent.Count == 0 && !_ends)
                    Monitor.Wait(_waiting);
                if (_ends)
                    return;
                LinkedList<BenchPhoto> from = _urgent.Count > 0 ? _urgent : _waiting;
                next = from.First!.Value;
                from.RemoveFirst();
            }

            _measure(next);
        }
    }
}
