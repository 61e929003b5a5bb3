namespace DeflectScan.Reporting;

/// <summary>How the unrolled strip is drawn.</summary>
/// <param name="WidthPx">Width of the picture in px; text and marks keep their share of it.</param>
/// <param name="MostExaggeration">Heights are drawn at most this many times as tall as lengths; the picture says how many.</param>
public sealed record UnrolledOptions(int WidthPx = 2400, double MostExaggeration = 4);
