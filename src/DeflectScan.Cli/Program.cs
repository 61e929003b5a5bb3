using DeflectScan.Cli;

return CliApp.Run(args, LiveEngine.Make(), Terminal.OfProcess());
