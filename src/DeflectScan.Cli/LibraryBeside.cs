using System.Runtime.InteropServices;
using OpenCvSharp;

namespace DeflectScan.Cli;

/// <summary>
/// OpenCvSharp asks for its native library in the system's folders alone; the run time of an ordinary build looks beside the program all the same, a
/// program compiled ahead of time does not.
/// </summary>
internal static class LibraryBeside
{
    /// <summary>Once, before the first call into OpenCV. Where the library does not lie beside the program, nothing changes.</summary>
    public static void Find()
    {
        if (File.Exists(FileOf("OpenCvSharpExtern")))
            NativeLibrary.SetDllImportResolver(typeof(Cv2).Assembly, (name, _, _) => NativeLibrary.TryLoad(FileOf(name), out nint library) ? library : 0);
    }

    private static string FileOf(string name) => Path.Combine(AppContext.BaseDirectory, $"lib{name}.so");
}
