using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Findings;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Storage;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Measuring;

/// <summary>The bench's photos as series, and the target that a builder set for each. A series is named by its first photo.</summary>
internal sealed class BenchSeries(Bench bench)
{
    private const string File = "targets.json";

    /// <summary>Comparisons that are kept: a bench's series are looked at again with every change of a photo.</summary>
    private const int MostKept = 2000;

    private readonly ConcurrentDictionary<string, Comparison?> _compared = new(StringComparer.Ordinal);
    private readonly Lock _writing = new();

    /// <summary>All series of photos that are not set aside, the newest first; the photos of each oldest first.</summary>
    public IReadOnlyList<IReadOnlyList<(BenchPhoto Photo, SeriesPhoto Measured)>> All()
    {
        Dictionary<string, (BenchPhoto Photo, string Key)> known = [];
        List<(string, Measurement)> measured = [];
        foreach (BenchPhoto photo in bench.Listed().Reverse())
        {
            lock (photo.Gate)
            {
                if (photo.Measured is not { } m || m.Status == MeasurementStatus.Refused)
                    continue;
                known[photo.Stored.Id] = (photo, photo.MeasuredKey);
                measured.Add((photo.Stored.Id, m));
            }
        }

        if (_compared.Count > MostKept)
            _compared.Clear();
        return
        [
            .. PhotoSeries.Of(measured, (before, after) => _compared.GetOrAdd(
                $"{before.Id}/{known[before.Id].Key}/{after.Id}/{known[after.Id].Key}", _ => PhotoSeries.Step(before.M, after.M)))
            .Reverse().Select(s => (IReadOnlyList<(BenchPhoto, SeriesPhoto)>)[.. s.Select(p => (known[p.Id].Photo, p))]),
        ];
    }

    /// <summary>The series that a photo is in, and its place from 0; null where it has no figures.</summary>
    public (IReadOnlyList<(BenchPhoto Photo, SeriesPhoto Measured)> Series, int At)? Of(string photoId)
    {
        foreach (IReadOnlyList<(BenchPhoto Photo, SeriesPhoto Measured)> series in All())
        {
            for (int i = 0; i < series.Count; i++)
            {
                if (series[i].Photo.Stored.Id == photoId)
                    return (series, i);
            }
        }

        return null;
    }

    /// <summary>The photo before in the series; of one without figures the one that came before it from a camera of the same size.</summary>
    public BenchPhoto? Before(BenchPhoto photo)
    {
        if (Of(photo.Stored.Id) is var (own, at))
            return at > 0 ? own[at - 1].Photo : null;
        BenchPhoto? last = bench.Listed().FirstOrDefault(p => p.Stored.ReceivedAt < photo.Stored.ReceivedAt);
        return last?.Measured?.Photo is { } a && photo.Measured?.Photo is { } b && (a.WidthPx, a.HeightPx) == (b.WidthPx, b.HeightPx) ? last : null;
    }

    /// <summary>The target of a series, mm; where none was set for it, the one set last for any: a builder has one habit. Null: none.</summary>
    public double? TargetMm(string seriesId)
    {
        JsonObject all = Targets();
        return all.ContainsKey(seriesId) ? (double?)all[seriesId] : (double?)all["last"];
    }

    /// <summary>Sets or takes off a target; it is on the disk when this returns.</summary>
    /// <exception cref="InputException">It makes no sense.</exception>
    public void SetTarget(string seriesId, double? mm)
    {
        if (mm is { } value && !(value >= BowTarget.LeastMm && value <= BowTarget.MostMm))
            throw new InputException(string.Create(CultureInfo.InvariantCulture, $"A target is a bow from {BowTarget.LeastMm} to {BowTarget.MostMm:0} mm."));
        lock (_writing)
        {
            JsonObject all = Targets();
            all[seriesId] = mm;
            all["last"] = mm;
            DurableWrite.Bytes(DiskFiles.Instance, Path.Combine(bench.Folder.Root, File), Encoding.UTF8.GetBytes(all.ToJsonString()));
        }
    }

    private JsonObject Targets()
    {
        string path = Path.Combine(bench.Folder.Root, File);
        try
        {
            return System.IO.File.Exists(path) && JsonNode.Parse(System.IO.File.ReadAllText(path)) is JsonObject all ? all : [];
        }
        catch (JsonException)
        {
            return []; // not written by this program
        }
    }
}
