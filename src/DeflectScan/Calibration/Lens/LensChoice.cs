using DeflectScan.Findings;
using DeflectScan.Photos;

namespace DeflectScan.Calibration.Lens;

/// <summary>
/// Which lens profile a photo is measured with: the one that a person named, or the one among the profiles in some folders that belongs to
/// the photo's camera, lens and zoom as EXIF states them. Nothing in a photo ever becomes part of a path: files are listed and read, and
/// what they say is compared.
/// </summary>
/// <param name="Profile">Null: none is used.</param>
/// <param name="Findings">What speaks against it.</param>
public sealed record LensChoice(LensProfile? Profile, IReadOnlyList<Finding> Findings)
{
    private const int MostFiles = 200;

    /// <param name="photo">The photo's facts.</param>
    /// <param name="file">The profile that a person named, or null.</param>
    /// <param name="folders">Looked through in this order; those that are not there are passed over.</param>
    /// <exception cref="InvalidDataException">The named file is no profile.</exception>
    public static LensChoice For(PhotoInfo photo, string? file, IReadOnlyList<string> folders)
    {
        if (file is not null)
        {
            LensProfile named = LensProfile.ReadFile(file);
            return new LensChoice(named, [.. LensFit.Differences(named, photo)]);
        }

        List<Finding> findings = [];
        foreach (string folder in folders.Where(Directory.Exists))
        {
            LensProfile? best = null;
            foreach (string path in Directory.EnumerateFiles(folder, "*.json").Order(StringComparer.Ordinal).Take(MostFiles))
            {
                try
                {
                    LensProfile profile = LensProfile.ReadFile(path);
                    if (LensFit.BelongsTo(profile, photo) && (best is null || LensFit.Closeness(profile, photo) > LensFit.Closeness(best, photo)))
                        best = profile;
                }
                catch (InvalidDataException)
                {
                    findings.Add(Finding.Note(FindingCode.LensUnknown, $"{Path.GetFileName(path)} among the lens profiles cannot be read as one and was passed over: make it anew by calibrating the lens."));
                }
            }

            if (best is not null)
                return new LensChoice(best, [.. findings, .. LensFit.Differences(best, photo)]);
        }

        return new LensChoice(null, findings);
    }
}
