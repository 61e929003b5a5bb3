using DeflectScan.Findings;

namespace DeflectScan.Web.Trying;

/// <summary>The desks that were asked for last, so that a dragged guide does not read the document anew each time.</summary>
internal sealed class TryDesks
{
    private const int Kept = 8;
    private readonly LinkedList<(string Name, Outcome<TryDesk> Desk)> _desks = new();
    private readonly Lock _gate = new();

    /// <param name="name">Names the document: its content never changes.</param>
    /// <param name="read">Reads it where it is not at hand.</param>
    public Outcome<TryDesk> Of(string name, Func<Outcome<Measurement>> read)
    {
        lock (_gate)
        {
            for (LinkedListNode<(string Name, Outcome<TryDesk> Desk)>? node = _desks.First; node is not null; node = node.Next)
            {
                if (node.Value.Name != name)
                    continue;
                _desks.Remove(node);
                _desks.AddFirst(node);
                return node.Value.Desk;
            }
        }

        Outcome<TryDesk> made = read().Then(TryDesk.Of);
        lock (_gate)
        {
            _desks.AddFirst((name, made));
            if (_desks.Count > Kept)
                _desks.RemoveLast();
        }

        return made;
    }
}
