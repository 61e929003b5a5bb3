using System.CommandLine;
using DeflectScan.Measuring;
using DeflectScan.Reporting.Json;
using OpenCvSharp;

namespace DeflectScan.Accuracy;

/// <summary>document: the measurement of one photo as the program writes it, with as many threads as the process has processors.</summary>
internal static class DocumentCommand
{
    public static Command Create()
    {
        Argument<FileInfo> photo = new("photo") { Description = "A photo." };
        Command command = new("document", "Measure one photo and print its document; DOTNET_PROCESSOR_COUNT=1 makes it one thread throughout.") { photo };
        command.SetAction(arguments =>
        {
            Cv2.SetNumThreads(Environment.ProcessorCount);
            Console.Out.Write(MeasurementJson.Write(MeasurePipeline.Measure(arguments.GetValue(photo)!.FullName, MeasureOptions.Default)));
        });
        return command;
    }
}
