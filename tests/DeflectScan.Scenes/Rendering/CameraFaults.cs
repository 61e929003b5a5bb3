namespace DeflectScan.Scenes.Rendering;

/// <summary>What hand-held phones do to a picture beyond blur, noise and sharpening.</summary>
public sealed record CameraFaults
{
    /// <summary>Length of the path that the picture moved while the shutter was open, px, 0 to 4, and its direction in degrees.</summary>
    public double ShakePx { get; init; }

    public double ShakeDeg { get; init; }

    /// <summary>Smoothing that keeps strong edges and smears faint ones, 0 to 1.</summary>
    public double Smear { get; init; }

    /// <summary>Strength of bright halos about dark things by local tone mapping, 0 to 0.5, and their radius in px, 6 to 60.</summary>
    public double Halo { get; init; }

    public double HaloPx { get; init; } = 20;

    /// <summary>Contrast curve, -0.4 flat to 0.4 hard.</summary>
    public double Contrast { get; init; }

    /// <summary>Factors on red and blue, 0.75 to 1.3: white balance.</summary>
    public double Red { get; init; } = 1;

    public double Blue { get; init; } = 1;

    /// <summary>Factor on the colours' strength, 0 grey to 1.4.</summary>
    public double Saturation { get; init; } = 1;

    public bool Any => this != new CameraFaults();
}
