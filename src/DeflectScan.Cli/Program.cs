using DeflectScan.Cli;
using DeflectScan.Cli.Running;

LibraryBeside.Find();
NativeWays.Set();
return CliApp.Run(args, LiveEngine.Make(), Terminal.OfProcess());
