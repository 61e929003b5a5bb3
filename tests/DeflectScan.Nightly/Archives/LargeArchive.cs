using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Nightly.Archives;

/// <summary>An archive as large as a busy shop's after years, made fast: its measurements share one photo and one document.</summary>
internal static class LargeArchive
{
    /// <returns>The id of one of the builds.</returns>
    public static string Fill(string folder, string photos, int builds, int measurementsOfEach)
    {
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        return writer.AsOne(() =>
        {
            string first = writer.AddBuild(MadeUp.Facts(0));
            writer.AddMeasurement(first, MadeUp.Measurement(MadeUp.Photo(photos, 1), 1));
            StoredMeasurement pattern = writer.Reader.Build(first)!.Measurements[0];
            string id = first;
            for (int b = 1; b < builds; b++)
            {
                id = Guid.CreateVersion7().ToString();
                string at = RowsOf.Time(DateTimeOffset.UnixEpoch.AddHours(b));
                FactTables.AddNew(writer.Database, new Row(Tables.Builds, id, at));
                foreach (Row row in RowsOf.Revision(Guid.CreateVersion7().ToString(), id, at, MadeUp.Facts(b)))
                    FactTables.AddNew(writer.Database, row);
                for (int m = 0; m < measurementsOfEach; m++)
                {
                    FactTables.AddNew(writer.Database, RowsOf.Of(pattern with
                    {
                        Id = Guid.CreateVersion7().ToString(), BuildId = id, MadeAt = DateTime.UnixEpoch.AddHours(b).AddMinutes(m), TipTurnDeg = 60 + (b % 50), LargestGapMm = 10 + (b % 40),
                    }));
                }

                Summaries.Refresh(writer.Database, id);
            }

            return id;
        });
    }
}
