using System.Runtime.InteropServices;

namespace DeflectScan.Cli;

/// <summary>
/// How native code behaves in this process. Pictures of tens of MB come and go: glibc by itself takes each from the system and gives it back, and all its
/// pages are wiped anew; on one heap that keeps what it has they are used again (thirty photos of a class: 869 MB at the most before, 611 with it).
/// OpenCV's other library for Intel's processors asks the processor what it is so often that a virtual machine loses 20 ms by it, and gives the same figures.
/// </summary>
internal static partial class NativeWays
{
    // malloc.h of glibc: M_TRIM_THRESHOLD, M_MMAP_MAX, M_ARENA_MAX.
    private const int TrimThreshold = -1;
    private const int MmapMax = -4;
    private const int ArenaMax = -8;

    /// <summary>Once, before the first call into OpenCV. Elsewhere than on Linux with glibc nothing changes.</summary>
    public static void Set()
    {
        if (!OperatingSystem.IsLinux())
            return;
        try
        {
            _ = SetVariable("OPENCV_IPP", "disabled", 0);
            _ = SetVariable("OPENCV_LOG_LEVEL", "ERROR", 0); // it would warn of that
            _ = Tune(ArenaMax, 1);
            _ = Tune(MmapMax, 0);
            _ = Tune(TrimThreshold, int.MaxValue);
        }
        catch (TypeLoadException)
        {
            // No such function, or no library of that name: another C library, which has its own ways.
        }
    }

    [LibraryImport("libc", EntryPoint = "mallopt")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int Tune(int parameter, int value);

    [LibraryImport("libc", EntryPoint = "setenv", StringMarshalling = StringMarshalling.Utf8)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static partial int SetVariable(string name, string value, int overwrite);
}
