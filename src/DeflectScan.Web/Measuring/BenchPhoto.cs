using System.Security.Cryptography;
using System.Text;
using DeflectScan.Checking;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Measuring;

/// <summary>Where a photo stands in the queue.</summary>
internal enum Stage
{
    Waiting,
    Measuring,
    Done,
    Cancelled,
    Failed,
}

/// <summary>A photo of the bench and what is known of it now. Its members change under its lock, <see cref="Gate"/>.</summary>
internal sealed class BenchPhoto(StoredPhoto stored, MarksLog log)
{
    public Lock Gate { get; } = new();

    public StoredPhoto Stored { get; set; } = stored;

    public MarksLog Log { get; } = log;

    public Stage Stage { get; set; } = Stage.Waiting;

    /// <summary>What is being done, in words for a person.</summary>
    public string Doing { get; set; } = "";

    /// <summary>What the quick check said; null before.</summary>
    public CheckReport? Check { get; set; }

    /// <summary>The measurement with the marks of <see cref="MeasuredKey"/>; the last one is shown until a newer one is there.</summary>
    public Measurement? Measured { get; set; }

    /// <summary>The key of the marks that <see cref="Measured"/> was made with.</summary>
    public string MeasuredKey { get; set; } = "";

    /// <summary>The state of marks that <see cref="Measured"/> was made with.</summary>
    public MarksState MeasuredWith { get; set; } = MarksState.None;

    /// <summary>What may be kept of it: the measurement with the marks of now, and those marks; why there is none, one sentence, where there is none.</summary>
    public (Measurement? Measured, MarksState With, string? Problem) ToKeep()
    {
        lock (Gate)
        {
            return Measured is null || MeasuredKey != KeyOf(Log.Now.Marks) ? (null, MeasuredWith, "The photo is still being measured: try again in a moment.")
                : Measured.Status == MeasurementStatus.Refused ? (null, MeasuredWith, "A refused photo has no figures to keep: mend what its sentence names, or take it again.")
                : (Measured, MeasuredWith, null);
        }
    }

    public CancellationTokenSource? Cancel { get; set; }

    /// <summary>Grows with every change that a viewer would see.</summary>
    public long Version { get; set; }

    /// <summary>The name of the results that a set of marks leads to.</summary>
    public static string KeyOf(Marks marks) =>
        marks.IsEmpty ? "read" : Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(marks.ToJson())))[..16];
}
