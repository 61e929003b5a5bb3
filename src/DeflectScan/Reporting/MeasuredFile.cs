namespace DeflectScan.Reporting;

/// <summary>A photo among many: its file and what came of it.</summary>
/// <param name="File">Its name.</param>
/// <param name="Measurement">Null where something unexpected went wrong.</param>
/// <param name="Problem">What went wrong, one sentence; null where nothing did.</param>
public sealed record MeasuredFile(string File, Measurement? Measurement, string? Problem);
