using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Web.Storing;
using OpenCvSharp;

namespace DeflectScan.Web.Pictures;

/// <summary>
/// Pictures of the photos for the page, upright, always encoded anew: an overview, and tiles of halved sizes, so that a large photo moves without a stutter.
/// Level 0 is the photo's own pixels, level k has sides divided by 2^k. The photo looked at last stays decoded.
/// </summary>
internal sealed class PhotoPictures(BenchFolder folder) : IDisposable
{
    /// <summary>Longest side of the overview, px: a phone's screen twice over (chosen).</summary>
    public const int OverviewPx = 1600;

    public const int TilePx = 512;

    /// <summary>JPEG quality: marks are placed on these pixels (chosen).</summary>
    private const int Quality = 88;

    private readonly Lock _gate = new();
    private string _openId = "";
    private UprightPhoto? _open;

    /// <summary>Makes the overview from a photo that is decoded already; who asks for it meanwhile waits for this one.</summary>
    public void KeepOverview(StoredPhoto stored, UprightPhoto photo)
    {
        lock (_gate)
        {
            if (folder.Result(stored.Id, "overview.jpg") is null)
                folder.WriteResult(stored.Id, "overview.jpg", Overview(photo.Bgr));
        }
    }

    /// <summary>The overview, or null where the file is no photo that can be opened.</summary>
    public byte[]? Overview(StoredPhoto stored)
    {
        if (folder.Result(stored.Id, "overview.jpg") is { } made)
            return made;
        lock (_gate)
        {
            if (folder.Result(stored.Id, "overview.jpg") is { } kept)
                return kept;
            if (Opened(stored) is not { } photo)
                return null;
            byte[] overview = Overview(photo.Bgr);
            folder.WriteResult(stored.Id, "overview.jpg", overview);
            return overview;
        }
    }

    /// <summary>One tile, or null where there is none.</summary>
    public byte[]? Tile(StoredPhoto stored, int level, int column, int row)
    {
        if (level is < 0 or > 8 || column < 0 || row < 0 || column > 1000 || row > 1000)
            return null;
        lock (_gate)
        {
            if (Opened(stored) is not { } photo)
                return null;
            int span = TilePx << level;
            Rect part = new Rect(column * span, row * span, span, span).Intersect(new Rect(0, 0, photo.Bgr.Width, photo.Bgr.Height));
            if (part.Width <= 0 || part.Height <= 0)
                return null;
            using Mat cut = new(photo.Bgr, part);
            return level == 0 ? Encoded(cut) : Reduced(cut, new Size(Ceiling(part.Width, level), Ceiling(part.Height, level)));
        }
    }

    /// <summary>An overview of a picture that is a file's bytes.</summary>
    public static byte[] OverviewOf(byte[] picture)
    {
        using Mat bgr = Cv2.ImDecode(picture, ImreadModes.Color);
        return Overview(bgr);
    }

    public void Dispose() => _open?.Dispose();

    private UprightPhoto? Opened(StoredPhoto stored)
    {
        if (_openId == stored.Id)
            return _open;
        _open?.Dispose();
        (_openId, _open) = (stored.Id, null);
        Outcome<UprightPhoto> opened = PhotoOpener.Open(folder.Original(stored), PhotoLimits.Default);
        return _open = opened.IsRefused ? null : opened.Value;
    }

    private static byte[] Overview(Mat bgr)
    {
        double reduce = Math.Max(1, Math.Max(bgr.Width, bgr.Height) / (double)OverviewPx);
        return Reduced(bgr, new Size((int)Math.Round(bgr.Width / reduce), (int)Math.Round(bgr.Height / reduce)));
    }

    private static byte[] Reduced(Mat bgr, Size size)
    {
        using Mat small = new();
        Cv2.Resize(bgr, small, size, 0, 0, InterpolationFlags.Area);
        return Encoded(small);
    }

    private static byte[] Encoded(Mat bgr)
    {
        Cv2.ImEncode(".jpg", bgr, out byte[] bytes, new ImageEncodingParam(ImwriteFlags.JpegQuality, Quality));
        return bytes;
    }

    private static int Ceiling(int px, int level) => Math.Max(1, (px + (1 << level) - 1) >> level);
}
