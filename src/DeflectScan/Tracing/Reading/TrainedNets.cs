namespace DeflectScan.Tracing.Reading;

/// <summary>The trained networks, loaded before they are asked for: while a photo is decoded a processor is idle.</summary>
internal static class TrainedNets
{
    /// <summary>Begins to load those that see the blank, and all that a measurement asks. One that cannot be loaded says so where it is used.</summary>
    public static void Begin(bool toMeasure) => _ = Task.Run(() =>
    {
        BlankReader.Finder.Load();
        StripReader.Reader.Load();
        if (toMeasure)
            ReelReader.Net.Load();
    });
}
