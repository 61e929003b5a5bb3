using DeflectScan.Photos;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records.Storage;

/// <summary>Keeps a measurement: its photo on the disk first, then, in the writer's transaction, the rows that speak of it.</summary>
internal static class MeasurementWriting
{
    public static (string Id, bool WasThere) Add(Database database, PhotoStore photos, string buildId, NewMeasurement made, string id, DateTimeOffset now)
    {
        Measurement m = made.Measurement;
        if (m.Status == MeasurementStatus.Refused || m.Photo is not { } info || m.Blank is not { } blank)
            throw new ArchiveException(ArchiveProblem.Refused, "A refused measurement has no figures to keep: nothing was added.");
        Row photo = Keep(database, photos, info, made.PhotoPath);
        string document = MeasurementJson.Write(m);
        string? lens = made.LensProfile is { } profile ? KeepLens(database, profile) : null;
        StoredMeasurement stored = new()
        {
            Id = id,
            BuildId = buildId,
            PhotoSha256 = photo.Text("sha256"),
            LensSha256 = lens,
            DocumentSha256 = Documents.HashOf(document),
            MadeAt = RowsOf.Time(RowsOf.Time(now)),
            ProgramVersion = ProgramBuild.Of(m.ToolVersion),
            Settings = SettingsJson.Write(made.Options),
            Label = made.Label,
            Status = m.Status,
            Side = SideText.Of(m.Side),
            TracedLengthMm = blank.TracedLengthMm,
            TipTurnDeg = blank.TipTurnDeg,
            GuideCount = m.Guides.Count(g => !g.IsTip),
        };
        if (m.Intervals.Where(i => m.Largest is { } l && (l.GapFrom, l.GapTo) == (i.From, i.To)).ToList() is [IntervalReport gap])
            stored = stored with { LargestGapMm = gap.GapMm, LargestGapUncertaintyMm = gap.Gap.UncertaintyMm };
        if (m.Intervals.Where(i => m.Largest is { } l && (l.BowFrom, l.BowTo) == (i.From, i.To)).ToList() is [IntervalReport bow])
            stored = stored with { LargestBowMm = bow.BowMm, LargestBowUncertaintyMm = bow.Bow.UncertaintyMm };
        if (BuildReading.Measurements(database, buildId).Find(k => IsSame(k, stored)) is { } known)
            return (known.Id, true);
        Documents.Add(database, document);
        FactTables.AddNew(database, RowsOf.Of(stored));
        return (id, false);
    }

    private static bool IsSame(StoredMeasurement a, StoredMeasurement b) =>
        (a.PhotoSha256, a.DocumentSha256, a.LensSha256, a.Settings) == (b.PhotoSha256, b.DocumentSha256, b.LensSha256, b.Settings);

    private static Row Keep(Database database, PhotoStore photos, PhotoInfo info, string path)
    {
        FileInfo file = new(path);
        if (!file.Exists)
            throw new ArchiveException(ArchiveProblem.Refused, "The photo is not there any more: nothing was added.");
        Row known = FactTables.Read(database, Tables.Photos, "WHERE sha256 = $1", info.Sha256).FirstOrDefault()
            ?? new Row(Tables.Photos, info.Sha256, PhotoStore.ExtensionFor(path), file.Length, info.WidthPx, info.HeightPx);
        if (!photos.Put(known, () => new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0)))
            throw new ArchiveException(ArchiveProblem.Refused, "The photo was changed while it was being measured: add it once more.");
        FactTables.Add(database, known);
        return known;
    }

    private static string KeepLens(Database database, string profile)
    {
        string sha256 = Documents.HashOf(profile);
        FactTables.Add(database, new Row(Tables.Lenses, sha256, profile));
        return sha256;
    }
}
