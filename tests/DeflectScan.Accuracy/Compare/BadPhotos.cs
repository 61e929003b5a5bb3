using DeflectScan.Scenes;

namespace DeflectScan.Accuracy.Compare;

/// <summary>Which codes are right for a photo that cannot be measured: what its truth says, else what its preset's name tells.</summary>
internal static class BadPhotos
{
    private static readonly Dictionary<string, string[]> ByPreset = new(StringComparer.Ordinal)
    {
        ["bad-no-card"] = ["card-missing"],
        ["bad-tip-cropped"] = ["tip-outside-frame"],
        ["bad-butt-cropped"] = ["butt-outside-frame"],
        ["bad-blurred"] = ["blurred", "card-missing"],
        ["bad-no-rod"] = ["rod-not-found"],
    };

    /// <summary>Empty: any code will do.</summary>
    public static IReadOnlyList<string> RightCodes(Truth truth) => truth.ExpectedCodes ?? ByPreset.GetValueOrDefault(truth.Preset) ?? [];
}
