namespace DeflectScan.Measuring;

/// <summary>Lets work in while what it will take fits with what is in hand; work that is larger than everything allowed is let in alone.</summary>
public sealed class MemoryGate(long limitBytes)
{
    private readonly object _gate = new();
    private long _used;
    private int _inside;

    /// <summary>Waits until there is room.</summary>
    /// <exception cref="OperationCanceledException">The waiting was given up.</exception>
    public void Enter(long bytes, CancellationToken cancel)
    {
        lock (_gate)
        {
            while (_inside > 0 && _used + bytes > limitBytes)
            {
                cancel.ThrowIfCancellationRequested();
                Monitor.Wait(_gate, TimeSpan.FromMilliseconds(200));
            }

            _used += bytes;
            _inside++;
        }
    }

    public void Leave(long bytes)
    {
        lock (_gate)
        {
            _used -= bytes;
            _inside--;
            Monitor.PulseAll(_gate);
        }
    }
}
