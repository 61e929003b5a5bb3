namespace DeflectScan.Measuring;

/// <summary>Many photos while they are worked on; parameters as in <see cref="ManyPhotos.Run"/>.</summary>
internal sealed class PhotosInHand<T>(
    IReadOnlyList<string> paths, long memoryBytes, Func<int, CancellationToken, T> work, Func<int, Exception, T> fault, Action<int>? progress, Action<int, T>? inOrder)
    where T : class
{
    private readonly T?[] _outcomes = new T?[paths.Count];
    private readonly MemoryGate _gate = new(memoryBytes);
    private readonly Lock _telling = new();
    private int _next = -1;
    private int _done;
    private int _told;
    private Exception? _broken;

    public IReadOnlyList<T> Run(int atOnce, CancellationToken cancel)
    {
        using CancellationTokenSource failed = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        progress?.Invoke(0);
        Thread[] workers = [.. Enumerable.Range(0, atOnce).Select(i => new Thread(() => Work(failed)) { IsBackground = true, Name = $"photo {i}" })];
        foreach (Thread worker in workers)
            worker.Start();
        foreach (Thread worker in workers)
            worker.Join();
        cancel.ThrowIfCancellationRequested();
        return _broken is null ? [.. _outcomes.Select(o => o!)] : throw new AggregateException(_broken);
    }

    private void Work(CancellationTokenSource failed)
    {
        int i;
        while ((i = Interlocked.Increment(ref _next)) < paths.Count && !failed.IsCancellationRequested)
        {
            try
            {
                Tell(i, One(i, failed.Token));
            }
            catch (Exception e)
            {
                // Cancelled, or the teller failed: nobody would see the rest.
                _broken = e;
                failed.Cancel();
            }
        }
    }

    private T One(int i, CancellationToken cancel)
    {
        long bytes = PhotoCost.Of(paths[i]);
        _gate.Enter(bytes, cancel);
        try
        {
            return work(i, cancel);
        }
        catch (Exception e) when (e is not OperationCanceledException)
        {
            return fault(i, e);
        }
        finally
        {
            _gate.Leave(bytes);
        }
    }

    private void Tell(int i, T outcome)
    {
        lock (_telling)
        {
            _outcomes[i] = outcome;
            _done++;
            for (; _told < _outcomes.Length && _outcomes[_told] is { } ready; _told++)
                inOrder?.Invoke(_told, ready);
            progress?.Invoke(_done);
        }
    }
}
