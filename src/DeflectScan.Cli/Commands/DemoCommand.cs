using System.CommandLine;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan demo</c>: measures the photo that the program carries.</summary>
internal static class DemoCommand
{
    private const string Resource = "DeflectScan.Demo.photo.jpg";

    public static Command Make(Engine engine, Terminal terminal)
    {
        Option<string?> folder = new("--out") { HelpName = "DIR", Description = "Folder for the photo and the pictures. [default: a new folder among the temporary files]" };
        Command command = new("demo", "Measure a photo that comes with the program (testimages/clean-spinning) and say where the pictures lie.") { folder };
        Outputs outputs = new Outputs(command).With(folder);
        ExitCodeHelp.State(command, 0, 1, 2, 3, 4, 130);
        command.SetAction((parsed, cancel) => Task.Run(
            () =>
            {
                string place = parsed.GetValue(folder) ?? Directory.CreateTempSubdirectory("deflectscan-demo-").FullName;
                string photo = Path.Combine(place, "photo.jpg");
                OutputFiles files = outputs.Of(parsed);
                ResultsFolder results = new(place, files, outputs.Force(parsed));
                Directory.CreateDirectory(place);
                files.Write(photo, CarriedPhoto());
                return MeasureCommand.Run(engine, terminal, new MeasureCommand.Request(photo, Json: false, results, place, MeasureOptions.Default), cancel);
            },
            cancel));
        return command;
    }

    private static byte[] CarriedPhoto()
    {
        using Stream stream = typeof(DemoCommand).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException("The program was built without its demo photo.");
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
