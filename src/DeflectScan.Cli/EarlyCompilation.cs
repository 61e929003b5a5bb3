using System.Reflection;
using System.Runtime.CompilerServices;

namespace DeflectScan.Cli;

/// <summary>
/// Readies the later stages' methods on a second core while the first stages wait for the disk and the decoder: compiles what is not compiled
/// ahead of time, and finds the entries of what is. It changes no figure and is not waited for.
/// </summary>
internal static class EarlyCompilation
{
    private static readonly string[] Later = ["DeflectScan.Tracing", "DeflectScan.Layout"];

    public static void Begin()
    {
        if (Environment.ProcessorCount < 2)
            return;
        Thread thread = new(Compile) { IsBackground = true, Name = "early compilation" };
        thread.Start();
    }

    private static void Compile()
    {
        try
        {
            CompileLater();
        }
        catch (Exception)
        {
            // Nothing hangs on it: what is not ready yet is compiled when it is called. On this thread an exception would end the program.
        }
    }

    /// <summary>Compiles them on the caller's thread.</summary>
    internal static void CompileLater()
    {
        foreach (Type type in typeof(MeasurePipeline).Assembly.GetTypes())
        {
            // A delegate's methods are the runtime's own: preparing them is refused.
            if (type.ContainsGenericParameters || type.IsSubclassOf(typeof(Delegate)) || !Later.Any(room => type.Namespace?.StartsWith(room, StringComparison.Ordinal) == true))
                continue;
            const BindingFlags Own = BindingFlags.DeclaredOnly | BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic;
            foreach (MethodBase method in type.GetMethods(Own).Concat<MethodBase>(type.GetConstructors(Own & ~BindingFlags.Static)))
            {
                if (!method.ContainsGenericParameters && !method.IsAbstract)
                    RuntimeHelpers.PrepareMethod(method.MethodHandle);
            }
        }
    }
}
