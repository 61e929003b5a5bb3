namespace DeflectScan.Cli.Tests;

public sealed class EarlyCompilationTests
{
    /// <summary>Every method that it asks for can be compiled: on its own thread a refusal would pass unseen, or end the program.</summary>
    [Fact]
    public void AllOfTheLaterStagesCompile() => EarlyCompilation.CompileLater();
}
