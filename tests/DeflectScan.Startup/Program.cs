using System.Reflection;
using DeflectScan.Startup;

// Writes the list of generic methods that the program's runs compile, for the compiler ahead of time to compile them instead:
//   dotnet run -c Release -p:CompileAhead=false --project tests/DeflectScan.Startup -- src/DeflectScan.Cli/startup.mibc PHOTO…
// Any photos that are measured will do; several take more ways through the code. Run it again when `measure` or `check` gained much code: what
// the list does not know is compiled at run time, and what no longer exists in it is passed over. No figure depends on it.
if (args is not [var output, _, ..])
{
    Console.Error.WriteLine("Say the file to write and the photos to measure.");
    return 2;
}

using CompiledMethods compiled = new();
MethodInfo program = Assembly.Load("deflectscan").EntryPoint!;
foreach (string photo in args[1..])
{
    foreach (string[] line in new string[][] { ["check", photo], ["check", photo, "--json"], ["measure", photo], ["measure", photo, "--json"] })
        program.Invoke(null, [line]);
}

IReadOnlyList<MethodBase> methods = compiled.Wanted();
ProfileFile.Write(output, methods);
Console.Error.WriteLine($"{methods.Count} methods in {output}");
return 0;
