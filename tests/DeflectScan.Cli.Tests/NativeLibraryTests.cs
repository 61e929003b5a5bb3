using System.Diagnostics;
using System.Text;
using DeflectScan.Cli.Running;
using DeflectScan.Scenes;

namespace DeflectScan.Cli.Tests;

/// <summary>What the native libraries need, from the libraries themselves.</summary>
public class NativeLibraryTests
{
    /// <summary>What ldd printed for OpenCV's library on Debian 12 with libgtk-3-0 installed without recommended packages (shortened).</summary>
    private const string WithoutDrm = """
        	linux-vdso.so.1 (0x00007ffd4f3f2000)
        	libfreetype.so.6 => /lib/x86_64-linux-gnu/libfreetype.so.6 (0x00007f3f2a0e4000)
        	libdrm.so.2 => not found
        	libc.so.6 => /lib/x86_64-linux-gnu/libc.so.6 (0x00007f3f26e1f000)
        """;

    [Fact]
    public void WhatTheLoaderMissesIsNamedWithItsPackage() => Assert.Equal(
        "A native library cannot be loaded because packages are missing: run apt-get install libdrm2.", NativeLibraries.Advice([WithoutDrm]));

    [Fact]
    public void AnUnknownLibraryIsNamedItselfAndNothingMissingIsSaid()
    {
        string unknown = NativeLibraries.Advice(["\tlibnext.so.7 => not found\n"]);
        Assert.Contains("libnext.so.7", unknown, StringComparison.Ordinal);
        Assert.Contains("apt-file search libnext.so.7", unknown, StringComparison.Ordinal);
        Assert.Contains("install the program again", NativeLibraries.Advice([]), StringComparison.Ordinal);
        Assert.Contains("too old", NativeLibraries.Advice(["lib.so: /lib/libc.so.6: version `GLIBC_2.38' not found (required by lib.so)\n"]), StringComparison.Ordinal);
    }

    /// <summary>On a minimal Debian 12 everything but the C library is missing; these five packages are enough there, as installing them showed.</summary>
    [Fact]
    public void OnAMinimalSystemFivePackagesAreEnough()
    {
        string[] needs = [.. Needed(Library).Where(n => n is not ("libm.so.6" or "librt.so.1" or "libpthread.so.0" or "libdl.so.2" or "libc.so.6" or "libstdc++.so.6" or "libgcc_s.so.1") && !n.StartsWith("ld-linux", StringComparison.Ordinal))];
        Assert.Contains("libdrm.so.2", needs);
        (string[] packages, string[] unknown) = NativeLibraries.Packages(needs);
        Assert.Empty(unknown); // a new library has a need that the table does not know: add it to NativePackages.txt
        Assert.Equal(["libatomic1", "libdrm2", "libfreetype6", "libgtk-3-0", "libharfbuzz0b"], packages.Order(StringComparer.Ordinal));
    }

    /// <summary>The script on a library that is made to need one that nobody has: it says so and takes Debian's naming rule.</summary>
    [Fact]
    public void TheScriptReadsTheLibraryToo()
    {
        using TempFolder folder = new();
        Assert.Equal(("", 0), Script(folder.Path, Library));
        byte[] bytes = File.ReadAllBytes(Library);
        int at = bytes.AsSpan().IndexOf("libdrm.so.2\0"u8);
        "libxyz.so.2\0"u8.CopyTo(bytes.AsSpan(at));
        Directory.CreateDirectory(folder["other"]);
        File.WriteAllBytes(folder["other/lib.so"], bytes);
        Assert.Equal(("libxyz2", 0), Script(folder["other"], null));
    }

    /// <summary>
    /// A single file that carries native libraries unpacks them to the home folder at its first start and ends with 159 where it cannot (.NET's
    /// documentation, "Single-file deployment", native libraries); ours is machine code with its libraries beside it. Publishing takes minutes, so only the
    /// setting is looked at here: src/release.sh tries it.
    /// </summary>
    [Fact]
    public void ThePublishedProgramUnpacksNothing()
    {
        string project = File.ReadAllText(Path.Combine(Repository.Root, "src/DeflectScan.Cli/DeflectScan.Cli.csproj"));
        Assert.Contains("<PublishAot>true", project, StringComparison.Ordinal);
        Assert.DoesNotContain("PublishSingleFile", project, StringComparison.Ordinal);
        Assert.DoesNotContain("ForSelfExtract>true", project, StringComparison.Ordinal);
        Assert.DoesNotContain("<IncludeAllContentForSelfExtract>", project, StringComparison.Ordinal);
    }

    private static string Library => Path.Combine(AppContext.BaseDirectory, "runtimes/linux-x64/native/libOpenCvSharpExtern.so");

    private static (string Said, int Code) Script(string folder, string? library)
    {
        if (library is not null)
            File.CreateSymbolicLink(Path.Combine(folder, "lib.so"), library);
        (string said, int code) = Run("bash", [Path.Combine(Repository.Root, ".ci/native-packages.sh"), folder, "--dry-run"]);
        return (said.Trim(), code);
    }

    /// <summary>A library's DT_NEEDED entries (ELF-64 Object File Format, version 1.5, chapters 4 and 8), as readelf -d prints them.</summary>
    private static IEnumerable<string> Needed(string library)
    {
        const int Dynamic = 6, Need = 1;
        byte[] elf = File.ReadAllBytes(library);
        (int sections, int size, int count) = ((int)BitConverter.ToInt64(elf, 0x28), BitConverter.ToInt16(elf, 0x3A), BitConverter.ToInt16(elf, 0x3C));
        for (int i = 0; i < count; i++)
        {
            int section = sections + (i * size);
            if (BitConverter.ToInt32(elf, section + 4) != Dynamic)
                continue;
            (int start, int length, int link) = ((int)BitConverter.ToInt64(elf, section + 0x18), (int)BitConverter.ToInt64(elf, section + 0x20), BitConverter.ToInt32(elf, section + 0x28));
            int names = (int)BitConverter.ToInt64(elf, sections + (link * size) + 0x18);
            for (int entry = start; entry < start + length; entry += 16)
            {
                if (BitConverter.ToInt64(elf, entry) == Need)
                    yield return Text(elf, names + (int)BitConverter.ToInt64(elf, entry + 8));
            }
        }
    }

    private static string Text(byte[] elf, int at) => Encoding.ASCII.GetString(elf, at, Array.IndexOf(elf, (byte)0, at) - at);

    private static (string Said, int Code) Run(string program, string[] args)
    {
        using Process p = Process.Start(new ProcessStartInfo(program, args) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false })!;
        Task<string> error = p.StandardError.ReadToEndAsync();
        string output = p.StandardOutput.ReadToEnd();
        p.WaitForExit();
        _ = error.Result;
        return (output, p.ExitCode);
    }
}
