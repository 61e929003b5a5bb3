using System.Collections.Concurrent;
using System.Diagnostics.Tracing;
using System.Reflection;

namespace DeflectScan.Startup;

/// <summary>
/// Listens to the run time and keeps what it compiles. Only what the compiler ahead of time would not find by itself is wanted: generic methods
/// with their types filled in, and the few methods in use of a library too large to be compiled whole.
/// </summary>
internal sealed class CompiledMethods : EventListener
{
    private const string RunTime = "Microsoft-Windows-DotNETRuntime";
    private const EventKeywords Compiling = (EventKeywords)0x10;
    private const string UsedInPart = "SixLabors.ImageSharp";

    /// <summary>Events come through a queue of the run time's own, without a sign of its end.</summary>
    private static readonly TimeSpan QueueTime = TimeSpan.FromSeconds(3);

    private readonly ConcurrentDictionary<nint, bool> handles = new();

    /// <summary>Those wanted so far, in an order that does not depend on the run.</summary>
    public IReadOnlyList<MethodBase> Wanted()
    {
        Thread.Sleep(QueueTime);
        return [.. handles.Keys.Select(Method).OfType<MethodBase>().Where(IsWanted).OrderBy(Name, StringComparer.Ordinal)];
    }

    protected override void OnEventSourceCreated(EventSource eventSource)
    {
        if (eventSource.Name == RunTime)
            EnableEvents(eventSource, EventLevel.Verbose, Compiling);
    }

    protected override void OnEventWritten(EventWrittenEventArgs eventData)
    {
        const int Handle = 0;
        const int Namespace = 6;
        if (eventData.EventName?.StartsWith("MethodLoadVerbose", StringComparison.Ordinal) == true && eventData.Payload is { } payload
            && payload[Namespace] is not "dynamicClass")
            handles[(nint)(ulong)payload[Handle]!] = true;
    }

    /// <summary>The method behind a handle. The public way asks for its type, which the event has in words only.</summary>
    private static MethodBase? Method(nint handle)
    {
        const BindingFlags Own = BindingFlags.NonPublic | BindingFlags.Instance | BindingFlags.Static;
        object info = typeof(RuntimeMethodHandle).GetMethod("GetMethodInfo", Own)!.Invoke(RuntimeMethodHandle.FromIntPtr(handle), null)!;
        MethodInfo toMethod = typeof(object).Assembly.GetType("System.RuntimeType", throwOnError: true)!.GetMethods(Own).Single(m => m.Name == "GetMethodBase" && m.GetParameters().Length == 1);
        return (MethodBase?)toMethod.Invoke(null, [info]);
    }

    private static bool IsWanted(MethodBase method)
    {
        if (method is not MethodInfo || method.DeclaringType is not { } type)
            return false;
        Assembly[] from = [.. ProfileFile.Assemblies(method)];
        bool isGeneric = method.IsGenericMethod || type.IsGenericType;
        return (isGeneric || from[0].GetName().Name == UsedInPart) && !from.Contains(typeof(CompiledMethods).Assembly);
    }

    private static string Name(MethodBase method) => $"{method.DeclaringType}.{method}";
}
