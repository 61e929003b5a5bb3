namespace DeflectScan.Web.Measuring;

/// <summary>Hands each stage on at once, on the thread that reports it.</summary>
internal sealed class StageProgress(Action<string> say) : IProgress<string>
{
    public void Report(string value) => say(value);
}
