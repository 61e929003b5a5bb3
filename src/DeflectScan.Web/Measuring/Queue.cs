namespace DeflectScan.Web.Measuring;

/// <summary>
/// Photos waiting for the thread that measures: the library works with every core by itself, so that two at once would only both be late. A class's photos come
/// many at a time, and what counts is when the last is done: for them a second thread fills what one measurement leaves of the cores.
/// Corrections go before new photos, and so do the quick checks of a class's photos: somebody waits for them.
/// </summary>
internal sealed class Queue : IDisposable
{
    private readonly LinkedList<BenchPhoto> _waiting = new();
    private readonly LinkedList<BenchPhoto> _urgent = new();
    private readonly Action<BenchPhoto> _measure;
    private readonly Thread[] _threads;
    private bool _ends;

    /// <param name="measure">Measures one.</param>
    /// <param name="isOfMany">It is one of a class, which the second thread may take.</param>
    public Queue(Action<BenchPhoto> measure, Predicate<BenchPhoto> isOfMany)
    {
        _measure = measure;
        _threads = [new Thread(() => Work(_ => true)), new Thread(() => Work(isOfMany))];
        foreach (Thread thread in _threads)
        {
            (thread.IsBackground, thread.Name) = (true, "measuring");
            thread.Start();
        }
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
            Monitor.PulseAll(_waiting);
        }
    }

    /// <summary>Ends after the photo in hand, which its owner has cancelled; what waits is measured at the next start.</summary>
    public void Dispose()
    {
        lock (_waiting)
        {
            _ends = true;
            Monitor.PulseAll(_waiting);
        }

        foreach (Thread thread in _threads)
            thread.Join(TimeSpan.FromSeconds(30));
    }

    private void Work(Predicate<BenchPhoto> mayTake)
    {
        while (true)
        {
            BenchPhoto? next;
            lock (_waiting)
            {
                while ((next = Taken(mayTake)) is null && !_ends)
                    Monitor.Wait(_waiting);
                if (_ends)
                    return;
            }

            _measure(next!);
        }
    }

    private BenchPhoto? Taken(Predicate<BenchPhoto> mayTake)
    {
        foreach (LinkedList<BenchPhoto> line in new[] { _urgent, _waiting })
        {
            if (line.FirstOrDefault(p => mayTake(p)) is { } photo)
            {
                line.Remove(photo);
                return photo;
            }
        }

        return null;
    }
}
