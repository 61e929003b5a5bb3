namespace DeflectScan.Rooms.Tests;

/// <summary>What breaks a rule today. These lists may only grow shorter.</summary>
internal static class Today
{
    /// <summary>Namespaces that go in circles, one circle a line.</summary>
    public static readonly string[] Circles =
    [
        "Cli Cli.Commands Cli.Commands.Bending Cli.Commands.Desk Cli.Commands.Records Cli.Display Cli.Display.Bending Cli.Display.Desk",
        "Records Records.Checking Records.Finding Records.Model Records.Schema Records.Storage",
    ];

    /// <summary>Folders of more than 20 files.</summary>
    public static readonly string[] Folders = [];

    /// <summary>Methods of more than 60 lines.</summary>
    public static readonly string[] Methods = ["DeflectScan.Cli.Commands.Desk.SpacingCommand.Make", "DeflectScan.Layout.Start.StartRule.TryPlan"];
}
