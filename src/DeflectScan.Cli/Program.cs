using DeflectScan.Cli;
using DeflectScan.Cli.Running;

LibraryBeside.Find();
return CliApp.Run(args, LiveEngine.Make(), Terminal.OfProcess());
