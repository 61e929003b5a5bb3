using System.Security.Cryptography;
using DeflectScan.Photos;
using OpenCvSharp;

namespace DeflectScan.Scenes;

/// <summary>Opens one of our own rendered photos as it is, without the checks that a stranger's file gets.</summary>
public static class ScenePhoto
{
    /// <summary>The photo in a folder that holds photo.jpg. Dispose it.</summary>
    public static UprightPhoto Open(string folder)
    {
        string path = Path.Combine(folder, "photo.jpg");
        byte[] bytes = File.ReadAllBytes(path);
        Mat bgr = Cv2.ImDecode(bytes, ImreadModes.Color);
        PhotoInfo info = new(
            "photo.jpg", Convert.ToHexStringLower(SHA256.HashData(bytes)), bgr.Cols, bgr.Rows, 1, null, null, null, null, null, null, null);
        return new UprightPhoto(info, bgr);
    }
}
