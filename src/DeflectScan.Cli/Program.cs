using DeflectScan.Cli;

LibraryBeside.Find();
return CliApp.Run(args, LiveEngine.Make(), Terminal.OfProcess());
