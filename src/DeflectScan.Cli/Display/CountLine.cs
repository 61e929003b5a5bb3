using DeflectScan.Cli.Running;
using DeflectScan.Reporting;

namespace DeflectScan.Cli.Display;

/// <summary>How many of many photos are done, on standard error.</summary>
internal sealed class CountLine(Terminal terminal, int photos)
{
    private readonly ProgressLine _line = new(terminal);
    private int _refused;
    private int _review;
    private string _said = "";

    /// <summary>What came of a photo; told in order.</summary>
    public void Add(MeasuredFile file)
    {
        _refused += file.Measurement?.Status is null or MeasurementStatus.Refused ? 1 : 0;
        _review += file.Measurement?.Status == MeasurementStatus.NeedsReview ? 1 : 0;
    }

    public void Done(int done)
    {
        string text = $"Measured {done} of {Counted.Of(photos, "photo")}{Others(", needs review: ", _review)}{Others(", without figures: ", _refused)}";
        if (text == _said)
            return;
        _said = text;
        _line.Report(text);
    }

    public void Away() => _line.Done();

    private static string Others(string words, int count) => count == 0 ? "" : $"{words}{count}";
}
