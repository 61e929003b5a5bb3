namespace DeflectScan.Tracing.Reading;

/// <summary>The trained networks, loaded before they are asked for: while a photo is decoded a processor is idle.</summary>
internal static class TrainedNets
{
    private static readonly Lazy<Task> Loaded = new(() => Task.Run(() =>
    {
        BlankReader.Finder.Load();
        StripReader.Reader.Load();
        ReelReader.Reader.Load();
    }));

    /// <summary>Begins to load them, once a process. A network that cannot be loaded says so where it is used.</summary>
    public static void Begin() => _ = Loaded.Value;
}
