using System.Diagnostics;
using DeflectScan.Cli.Running;

namespace DeflectScan.Cli.Tests;

/// <summary>The program as its own process, as a shell calls it.</summary>
public class ProcessTests
{
    private static readonly string Program = Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "deflectscan.exe" : "deflectscan");

    [Fact]
    public void TheVersionIsPlain() => Assert.Matches(@"^\d+\.\d+\.\d+\n$", Run(Program, ["--version"]).Out);

    [Fact]
    public void WrongUsageExitsWithTwo() => Assert.Equal(2, Run(Program, ["measure"]).Code);

    [Theory]
    [InlineData("deflectscan me", "measure")]
    [InlineData("deflectscan measure --gu", "--guides")]
    [InlineData("deflectscan measure --side ", "inside\noutside")]
    [InlineData("deflectscan card --paper l", "letter")]
    [InlineData("deflectscan what", "whatif")]
    [InlineData("deflectscan spacing --largest-g", "--largest-gap")]
    public void BashCompletesCommandsOptionsAndValues(string typed, string completions)
    {
        (int code, string output, string error) = Run("bash", ["--norc", "-c", BashCompletion, "test", Path.GetDirectoryName(Program)!, typed]);
        Assert.True(code == 0, error);
        Assert.Equal(completions, output.TrimEnd('\n'));
    }

    [Fact]
    public void BashLeavesFileNamesToItself()
    {
        (int code, string output, _) = Run("bash", ["--norc", "-c", BashCompletion, "test", Path.GetDirectoryName(Program)!, "deflectscan measure pho"]);
        Assert.Equal((0, ""), (code, output.Trim()));
    }

    [Fact]
    public void AMissingLibraryIsNamedInOneSentence()
    {
        using TempFolder folder = new();
        foreach (string file in Directory.GetFiles(AppContext.BaseDirectory).Where(f => !f.Contains("OpenCvSharpExtern", StringComparison.Ordinal)))
            File.Copy(file, folder[Path.GetFileName(file)]);
        string photo = DeflectScan.Scenes.Repository.Photo("one-card");
        (int code, string output, string error) = Run(folder["deflectscan"], ["measure", photo]);
        Assert.Equal(1, code);
        Assert.Equal("", output);
        Assert.Contains("A native library cannot be loaded", error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", error, StringComparison.Ordinal);
    }

    /// <summary>Loads the script into a real bash, sets what bash sets when Tab is pressed at the end of $2, calls the function that bash would call.</summary>
    private const string BashCompletion = """
        PATH="$1:$PATH"
        source <(deflectscan completion bash) || exit 1
        COMP_LINE="$2"; COMP_POINT=${#COMP_LINE}
        read -ra COMP_WORDS <<< "$COMP_LINE"
        [[ "$COMP_LINE" == *" " ]] && COMP_WORDS+=("")
        COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
        registered="$(complete -p deflectscan)" || exit 1
        [[ "$registered" =~ -F\ ([^ ]+) ]] || exit 1
        "${BASH_REMATCH[1]}"
        printf '%s\n' "${COMPREPLY[@]}"
        """;

    private static (int Code, string Out, string Error) Run(string program, IEnumerable<string> args)
    {
        ProcessStartInfo start = new(program, args) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        using Process process = Process.Start(start)!;
        Task<string> error = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        Assert.True(process.WaitForExit(30_000));
        return (process.ExitCode, output.ReplaceLineEndings("\n"), error.Result);
    }
}
