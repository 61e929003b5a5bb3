using System.Collections.Concurrent;
using System.Threading.Channels;

namespace DeflectScan.Web.Measuring;

/// <summary>Tells every page that is open which photo has changed, or that the archive of builds has. A page that does not listen fast enough misses some and asks anew.</summary>
internal sealed class Changes
{
    /// <summary>What is said where the archive of builds has changed; no photo's id.</summary>
    public const string Archive = "archive";

    /// <summary>What is said where there is something else to tell of the watched folder.</summary>
    public const string Watch = "watch";

    private readonly ConcurrentDictionary<Channel<string>, bool> _listeners = new();

    public void Say(string id)
    {
        foreach (Channel<string> listener in _listeners.Keys)
            listener.Writer.TryWrite(id);
    }

    public Listener Listen() => new(this);

    /// <summary>One page's ear; dispose it when the page goes.</summary>
    internal sealed class Listener : IDisposable
    {
        private readonly Changes _of;
        private readonly Channel<string> _ids = Channel.CreateBounded<string>(new BoundedChannelOptions(256) { FullMode = BoundedChannelFullMode.DropOldest });

        public Listener(Changes of)
        {
            _of = of;
            of._listeners[_ids] = true;
        }

        public ChannelReader<string> Ids => _ids.Reader;

        public void Dispose() => _of._listeners.TryRemove(_ids, out _);
    }
}
