using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Plots;

namespace DeflectScan.Records.Comparing;

/// <summary>The pictures of a comparison, as files.</summary>
public static class ComparedPictures
{
    /// <summary>Both photos with their overlays in register (before.png, after.png) and the gaps along the blank (gaps.png).</summary>
    /// <param name="reader">The archive.</param>
    /// <param name="title">The build's name.</param>
    /// <param name="comparison">The two measurements.</param>
    /// <param name="before">The earlier one, as it is kept.</param>
    /// <param name="after">The later one, as it is kept.</param>
    /// <param name="unit">Of the plot.</param>
    /// <exception cref="ArchiveException">A photo is missing or damaged, or they cannot be laid on each other.</exception>
    public static IReadOnlyList<(string Name, byte[] Bytes)> Draw(
        ArchiveReader reader, string title, Comparison comparison, StoredMeasurement before, StoredMeasurement after, LengthUnit unit)
    {
        using UprightPhoto first = Open(reader, before);
        using UprightPhoto second = Open(reader, after);
        (byte[] was, byte[] now) = InRegister.Draw(comparison, first, second);
        return [("before.png", was), ("after.png", now), ("gaps.png", GapProfile.Draw(comparison, title.ReplaceLineEndings(" "), PlotFormat.Png, unit))];
    }

    /// <summary>A measurement's photo, upright; the caller disposes it.</summary>
    /// <exception cref="ArchiveException">It is missing or damaged.</exception>
    public static UprightPhoto Open(ArchiveReader reader, StoredMeasurement measurement)
    {
        Outcome<UprightPhoto> opened = PhotoOpener.Open(reader.PhotoPath(measurement), PhotoLimits.Default);
        return opened.Value ?? throw new ArchiveException(ArchiveProblem.Damaged, opened.Findings[0].Message);
    }
}
