using DeflectScan.Findings;

namespace DeflectScan.Tests;

public class FindingTests
{
    [Fact]
    public void CodesAreSpeltAsTheContractSpellsThem()
    {
        string[] contract =
        [
            "card-missing", "card-too-small", "card-off-plane", "cards-disagree", "lens-unknown", "tilt-large", "blurred",
            "low-resolution", "low-contrast", "rod-not-found", "tip-outside-frame", "butt-outside-frame", "line-not-seen",
            "guides-uncertain", "bend-excessive", "bend-too-small", "file-unreadable", "file-too-large",
        ];
        Assert.Equal(contract, Enum.GetValues<FindingCode>().Select(Finding.Spell));
    }
}
