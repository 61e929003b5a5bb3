using System.Runtime.InteropServices;

namespace DeflectScan.Cli;

/// <summary>Tells a native library that cannot be loaded from other faults, and names the Debian packages that it lacks.</summary>
internal static class NativeLibraries
{
    /// <summary>What OpenCV's library links against, with the Debian or Ubuntu package that has it.</summary>
    private static readonly (string File, string Package)[] Needed =
    [
        ("libgtk-3.so.0", "libgtk-3-0"),
        ("libharfbuzz.so.0", "libharfbuzz0b"),
        ("libfreetype.so.6", "libfreetype6"),
        ("libatomic.so.1", "libatomic1"),
    ];

    /// <summary>One sentence that says what to install, or null where <paramref name="fault"/> is about something else.</summary>
    public static string? Explain(Exception fault)
    {
        for (Exception? e = fault; e is not null; e = e.InnerException)
        {
            if (e is DllNotFoundException or BadImageFormatException)
                return Advice([.. Needed.Where(n => !CanLoad(n.File)).Select(n => n.Package)]);
        }

        return null;
    }

    internal static string Advice(IReadOnlyList<string> missing) => missing.Count > 0
        ? $"A native library cannot be loaded because packages are missing: run apt-get install {string.Join(' ', missing)}."
        : "A native library cannot be loaded: on Linux x64 install the program again, other systems are not supported.";

    private static bool CanLoad(string library)
    {
        if (!NativeLibrary.TryLoad(library, out nint handle))
            return false;
        NativeLibrary.Free(handle);
        return true;
    }
}
