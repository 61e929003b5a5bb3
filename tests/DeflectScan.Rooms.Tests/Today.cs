namespace DeflectScan.Rooms.Tests;

/// <summary>What breaks a rule today. These lists may only grow shorter.</summary>
internal static class Today
{
    /// <summary>Namespaces that go in circles, one circle a line.</summary>
    public static readonly string[] Circles = [];

    /// <summary>Folders of more than 20 files.</summary>
    public static readonly string[] Folders = [];

    /// <summary>Methods of more than 60 lines.</summary>
    public static readonly string[] Methods = [];

    /// <summary>Files that take a middle of values by hand.</summary>
    public static readonly string[] Medians = [];

    /// <summary>Files that type a figure of the normal law.</summary>
    public static readonly string[] NormalFigures = [];

    /// <summary>Projects of the program whose internals another one sees.</summary>
    public static readonly string[] Internals = ["DeflectScan to DeflectScan.Records"];
}
