using OpenCvSharp;

namespace DeflectScan.Photos;

/// <summary>A decoded photo, turned upright once. Owns its pixels: dispose it where it was opened.</summary>
public sealed class UprightPhoto(PhotoInfo info, Mat bgr) : IDisposable
{
    private readonly Lazy<Mat> _grey = new(() =>
    {
        Mat grey = new();
        Cv2.CvtColor(bgr, grey, ColorConversionCodes.BGR2GRAY);
        return grey;
    });

    public PhotoInfo Info { get; } = info;

    /// <summary>8-bit blue, green, red; height × width as displayed. Pixel (0, 0) has its centre at (0, 0).</summary>
    public Mat Bgr { get; } = bgr;

    /// <summary>8-bit luma of <see cref="Bgr"/>, made at first use.</summary>
    public Mat Grey => _grey.Value;

    public void Dispose()
    {
        if (_grey.IsValueCreated)
            _grey.Value.Dispose();
        Bgr.Dispose();
    }
}
