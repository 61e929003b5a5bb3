using System.Reflection;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace DeflectScan.Rooms.Tests;

/// <summary>
/// What the compiled projects say of themselves: which types use which, and from which line to which a method runs. Constants are copied by the
/// compiler and leave no trace, nor does <c>nameof</c>.
/// </summary>
internal static class Symbols
{
    /// <summary>The project's own assemblies, with the symbols beside them.</summary>
    public static IReadOnlyList<ModuleDefinition> Modules { get; } =
    [
        .. new[] { typeof(Measurement).Assembly, typeof(Records.Archive).Assembly, Assembly.Load("DeflectScan.Web"), Assembly.Load("deflectscan") }
            .Select(Read),
    ];

    /// <summary>Every pair of namespaces of ours of which the first uses the second, with a type that does.</summary>
    public static IReadOnlyDictionary<(string From, string To), string> Uses { get; } = FindUses();

    public static ModuleDefinition Read(Assembly assembly) => ModuleDefinition.ReadModule(assembly.Location, new ReaderParameters { ReadSymbols = true });

    /// <summary>Each written method with a body: its type and name, and the lines from its first statement to its closing brace.</summary>
    public static IEnumerable<(string Name, int Lines)> Methods(IEnumerable<ModuleDefinition> modules) =>
        from type in modules.SelectMany(m => m.GetTypes())
        from method in type.Methods
        where method.HasBody && method.DebugInformation.HasSequencePoints && IsWritten(method)
        let lines = Lines(method)
        where lines > 0
        select (Written(method), lines);

    private static Dictionary<(string From, string To), string> FindUses()
    {
        Dictionary<(string, string), string> uses = [];
        foreach (TypeDefinition type in Modules.SelectMany(m => m.GetTypes()))
        {
            string from = Namespace(type);
            foreach (string to in Used(type).SelectMany(Parts).Select(Namespace))
            {
                if (IsOurs(from) && IsOurs(to) && from != to)
                    uses.TryAdd((from, to), Outermost(type).Name);
            }
        }

        return uses;
    }

    private static IEnumerable<TypeReference> Used(TypeDefinition type)
    {
        IEnumerable<TypeReference> declared =
        [
            .. type.Interfaces.Select(i => i.InterfaceType), .. type.Fields.Select(f => f.FieldType), .. type.CustomAttributes.Select(a => a.AttributeType),
            .. type.GenericParameters.SelectMany(p => p.Constraints).Select(c => c.ConstraintType),
        ];
        return declared.Concat(type.BaseType is { } parent ? [parent] : []).Concat(type.Methods.SelectMany(Used));
    }

    private static IEnumerable<TypeReference> Used(MethodDefinition method)
    {
        IEnumerable<TypeReference> declared = [method.ReturnType, .. method.Parameters.Select(p => p.ParameterType)];
        return method.HasBody
            ? declared.Concat(method.Body.Variables.Select(v => v.VariableType)).Concat(method.Body.Instructions.SelectMany(i => Used(i.Operand)))
            : declared;
    }

    private static IEnumerable<TypeReference> Used(object? operand) => operand switch
    {
        TypeReference type => [type],
        FieldReference field => [field.DeclaringType, field.FieldType],
        MethodReference method => [method.DeclaringType, method.ReturnType, .. method is GenericInstanceMethod generic ? generic.GenericArguments : []],
        _ => [],
    };

    /// <summary>A type and what it is made of: an array's elements, a generic type's arguments.</summary>
    private static IEnumerable<TypeReference> Parts(TypeReference type) => type switch
    {
        GenericInstanceType generic => generic.GenericArguments.SelectMany(Parts).Append(generic.ElementType),
        TypeSpecification made => Parts(made.ElementType),
        _ => [type],
    };

    private static TypeReference Outermost(TypeReference type) => type.DeclaringType is { } outer ? Outermost(outer) : type;

    private static string Namespace(TypeReference type) => Outermost(type).Namespace;

    private static bool IsOurs(string name) => name == "DeflectScan" || name.StartsWith("DeflectScan.", StringComparison.Ordinal);

    /// <summary>Lines from a method's first statement to its last. A constructor's fields are set before it calls its base; where they stand is no part of it.</summary>
    private static int Lines(MethodDefinition method)
    {
        int start = method.IsConstructor
            ? method.Body.Instructions.Where(i => i.OpCode == OpCodes.Call && i.Operand is MethodReference { Name: ".ctor" }).Select(i => i.Offset).FirstOrDefault(int.MaxValue)
            : -1;
        SequencePoint[] points = [.. method.DebugInformation.SequencePoints.Where(p => !p.IsHidden && p.Offset > start)];
        return points.Length == 0 ? 0 : points.Max(p => p.EndLine) - points.Min(p => p.StartLine) + 1;
    }

    /// <summary>What the compiler's generators write lies in the folder for what is built, or in none.</summary>
    private static bool IsWritten(MethodDefinition method)
    {
        string file = method.DebugInformation.SequencePoints[0].Document.Url.Replace('\\', '/');
        return !file.EndsWith(".g.cs", StringComparison.Ordinal) && !file.Contains("/obj/", StringComparison.Ordinal) && IsOurs(Namespace(method.DeclaringType));
    }

    /// <summary>A method as it is written: those that the compiler makes of an iterator or a local function are named after the one that they stand in.</summary>
    private static string Written(MethodDefinition method)
    {
        string made = method.DeclaringType.Name.StartsWith('<') && method.Name == "MoveNext" ? method.DeclaringType.Name : method.Name;
        string name = made.StartsWith('<') && made.IndexOf('>') is > 1 and var end ? made[1..end] : made;
        return $"{Outermost(method.DeclaringType).FullName}.{name}";
    }
}
