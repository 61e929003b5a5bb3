namespace DeflectScan.Web.Teaching;

/// <summary>
/// Counts wrong codes, so that guessing leads nowhere: from one address a few a minute, from all together some more. A guesser at one address does not keep the
/// class out, whose phones have others.
/// </summary>
internal sealed class ClassDoor(TimeProvider clock)
{
    /// <summary>Wrong codes from one address within a minute.</summary>
    public const int MostWrong = 5;

    /// <summary>Wrong codes from all addresses within a minute: a class's typing errors and not more.</summary>
    public const int MostWrongOfAll = 60;

    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(1);
    private readonly Lock _gate = new();
    private readonly Dictionary<string, int> _wrong = new(StringComparer.Ordinal);
    private DateTimeOffset _countedFrom = clock.GetUtcNow();

    /// <summary>Whether no code of this address is looked at for now.</summary>
    public bool IsPaused(string address)
    {
        lock (_gate)
        {
            if (clock.GetUtcNow() - _countedFrom > Pause)
            {
                _wrong.Clear();
                _countedFrom = clock.GetUtcNow();
            }

            return _wrong.GetValueOrDefault(address) >= MostWrong || _wrong.Values.Sum() >= MostWrongOfAll;
        }
    }

    public void Wrong(string address)
    {
        lock (_gate)
            _wrong[address] = _wrong.GetValueOrDefault(address) + 1;
    }
}
