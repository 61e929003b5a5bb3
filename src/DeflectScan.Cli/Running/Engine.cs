using DeflectScan.Calibration.Lens;
using DeflectScan.Checking;
using DeflectScan.Findings;
using DeflectScan.Reporting.Cards;

namespace DeflectScan.Cli.Running;

/// <summary>A measured photo and what its pictures are drawn with. Drawing is null where there is nothing to draw on.</summary>
internal sealed class MeasuredPhoto(Measurement measurement, Func<byte[]>? overlayPng, Func<byte[]>? unrolledPng, IDisposable? owner) : IDisposable
{
    public Measurement Measurement { get; } = measurement;

    /// <summary>Draws the photo with what was measured.</summary>
    public Func<byte[]>? OverlayPng { get; } = overlayPng;

    /// <summary>Draws the band along the blank, straightened.</summary>
    public Func<byte[]>? UnrolledPng { get; } = unrolledPng;

    /// <summary>Both without strips of words, for a sheet; null where they are as the others.</summary>
    public (Func<byte[]>? Overlay, Func<byte[]>? Unrolled)? Bare { get; init; }

    public void Dispose() => owner?.Dispose();
}

/// <summary>What the face calls: it computes nothing itself, and tests hand in another engine.</summary>
/// <param name="Measure">Measures the photo at a path.</param>
/// <param name="DrawCard">A scale card's file: letter, paper, kind ("pdf", "svg" or "png").</param>
internal sealed record Engine(
    Func<string, MeasureOptions, IProgress<string>, CancellationToken, MeasuredPhoto> Measure,
    Func<char, Paper, string, byte[]> DrawCard)
{
    /// <summary>Looks whether the photo at a path will do.</summary>
    public Func<string, bool, CheckReport> Check { get; init; } = (_, _) => throw new NotSupportedException();

    /// <summary>Calibrates a lens.</summary>
    public Func<LensRequest, IProgress<string>, CancellationToken, Outcome<LensCalibration>> Calibrate { get; init; } =
        (_, _, _) => throw new NotSupportedException();
}
