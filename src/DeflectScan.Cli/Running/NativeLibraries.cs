using System.Diagnostics;
using System.Runtime.InteropServices;
using System.Text.RegularExpressions;

namespace DeflectScan.Cli.Running;

/// <summary>
/// Tells a native library that cannot be loaded from other faults, asks the system's loader what it lacks (ldd(1) on the library itself, so that a
/// new one needs no list kept by hand), and names the Debian packages that bring it.
/// </summary>
internal static partial class NativeLibraries
{
    private static readonly string[] Own = ["libOpenCvSharpExtern.so", "libSkiaSharp.so", "libe_sqlite3.so"];
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    /// <summary>One sentence that says what to install, or null where <paramref name="fault"/> is about something else.</summary>
    public static string? Explain(Exception fault)
    {
        for (Exception? e = fault; e is not null; e = e.InnerException)
        {
            if (e is DllNotFoundException or BadImageFormatException)
                return Advice(Files().Select(Ask).ToList());
        }

        return null;
    }

    /// <summary>What to do, from what ldd says of each of the libraries that are there.</summary>
    internal static string Advice(IReadOnlyList<string> said)
    {
        const string Start = "A native library cannot be loaded";
        if (said.Count == 0)
            return $"{Start} because it is not beside the program: on Linux x64 install the program again, other systems are not supported.";
        string[] missing = [.. said.SelectMany(Missing).Distinct(StringComparer.Ordinal)];
        (string[] packages, string[] unknown) = Packages(missing);
        string find = unknown.Length == 0 ? "" : $"{string.Join(" and ", unknown)}, whose package \"apt-file search {unknown[0]}\" or packages.debian.org finds";
        if (packages.Length > 0)
            return $"{Start} because packages are missing: run apt-get install {string.Join(' ', packages)}{(find.Length > 0 ? $" and the one that brings {find}" : "")}.";
        if (find.Length > 0)
            return $"{Start} because the system lacks {find}: install that package.";
        return said.Any(s => TooOld().IsMatch(s))
            ? $"{Start} because this system's C library is too old for it: use Debian 12, Ubuntu 22.04 or later."
            : $"{Start} although nothing that it needs is missing: on Linux x64 install the program again, other systems are not supported.";
    }

    /// <summary>The libraries that ldd does not find: "libdrm.so.2 => not found".</summary>
    internal static IEnumerable<string> Missing(string ldd) => NotFound().Matches(ldd).Select(m => m.Groups["name"].Value);

    /// <summary>The packages that bring libraries, each once and without those that another one brings along; and libraries of no known package.</summary>
    internal static (string[] Packages, string[] Unknown) Packages(IReadOnlyList<string> libraries)
    {
        Dictionary<string, string[]> table = Table();
        string[][] known = [.. libraries.Where(table.ContainsKey).Select(l => table[l])];
        HashSet<string> named = [.. known.Select(k => k[1])];
        return (
            [.. known.Where(k => k.Length < 3 || !named.Contains(k[2])).Select(k => k[1]).Distinct(StringComparer.Ordinal)],
            [.. libraries.Where(l => !table.ContainsKey(l))]);
    }

    private static Dictionary<string, string[]> Table()
    {
        using Stream stream = typeof(NativeLibraries).Assembly.GetManifestResourceStream("DeflectScan.NativePackages.txt")!;
        using StreamReader reader = new(stream);
        return reader.ReadToEnd().Split('\n').Where(l => l.Length > 0 && l[0] != '#').Select(l => l.Split(' ')).ToDictionary(w => w[0], StringComparer.Ordinal);
    }

    /// <summary>The program's own native libraries, where the run time looks for them.</summary>
    private static IEnumerable<string> Files()
    {
        string[] folders = [.. (AppContext.GetData("NATIVE_DLL_SEARCH_DIRECTORIES") as string ?? "").Split(Path.PathSeparator), AppContext.BaseDirectory];
        return Own.Select(name => folders.Where(f => f.Length > 0).Select(f => Path.Combine(f, name)).FirstOrDefault(File.Exists)).OfType<string>();
    }

    private static string Ask(string library)
    {
        try
        {
            ProcessStartInfo start = new("ldd", [library]) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
            start.Environment["LC_ALL"] = "C";
            using Process ldd = Process.Start(start)!;
            Task<string> error = ldd.StandardError.ReadToEndAsync();
            string output = ldd.StandardOutput.ReadToEnd();
            ldd.WaitForExit(Patience);
            return output + error.Result;
        }
        catch (Exception e) when (e is System.ComponentModel.Win32Exception or IOException or InvalidOperationException)
        {
            // No ldd here: what the loader itself refuses is asked one by one, of what is known.
            return string.Concat(Table().Keys.Where(name => !CanLoad(name)).Select(name => $"{name} => not found\n"));
        }
    }

    private static bool CanLoad(string library)
    {
        if (!NativeLibrary.TryLoad(library, out nint handle))
            return false;
        NativeLibrary.Free(handle);
        return true;
    }

    [GeneratedRegex(@"^\s*(?<name>\S+) => not found", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex NotFound();

    [GeneratedRegex("version `[A-Z]+_[0-9.]+' not found", RegexOptions.None, 10_000)]
    private static partial Regex TooOld();
}
