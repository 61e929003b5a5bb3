namespace DeflectScan.Tests;

/// <summary>The trait of tests that take long where shorter ones guard the same thing: <c>tests/run.sh --long</c> runs them, by hand.</summary>
internal static class LongSet
{
    public const string Name = "Set";
    public const string Value = "long";
}
