using System.Reflection;
using System.Reflection.Emit;

namespace DeflectScan.Startup;

/// <summary>
/// A profile as crossgen2 reads it: an assembly that holds no program, but global methods that load one method token after the other. One named
/// AssemblyDictionary loads for each of them first the names of the assemblies that its methods come from.
/// The format is described in dotnet/runtime, at MIbcProfileParser.
/// </summary>
internal static class ProfileFile
{
    /// <param name="path">Where to write it.</param>
    /// <param name="methods">Without type parameters left open; constructors cannot be written.</param>
    public static void Write(string path, IReadOnlyList<MethodBase> methods)
    {
        PersistedAssemblyBuilder assembly = new(new AssemblyName(Path.GetFileNameWithoutExtension(path)), typeof(object).Assembly);
        ModuleBuilder module = assembly.DefineDynamicModule("profile");
        List<(string Names, MethodBuilder Method)> groups = [];
        foreach (IGrouping<string, MethodBase> group in methods.GroupBy(Names).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            MethodBuilder holder = Define($"Assemblies_{groups.Count + 1}");
            ILGenerator tokens = holder.GetILGenerator();
            foreach (MethodInfo method in group.OfType<MethodInfo>())
            {
                tokens.Emit(OpCodes.Ldtoken, method);
                tokens.Emit(OpCodes.Pop);
            }

            tokens.Emit(OpCodes.Ret);
            groups.Add((group.Key, holder));
        }

        ILGenerator dictionary = Define("AssemblyDictionary").GetILGenerator();
        foreach ((string names, MethodBuilder holder) in groups)
        {
            dictionary.Emit(OpCodes.Ldstr, names);
            dictionary.Emit(OpCodes.Ldtoken, holder);
            dictionary.Emit(OpCodes.Pop);
        }

        dictionary.Emit(OpCodes.Ret);
        module.CreateGlobalFunctions();
        assembly.Save(path);

        MethodBuilder Define(string name) => module.DefineGlobalMethod(name, MethodAttributes.Public | MethodAttributes.Static, typeof(void), null);
    }

    /// <summary>Every assembly that a method's type and type arguments come from, its own first.</summary>
    public static IEnumerable<Assembly> Assemblies(MethodBase method)
    {
        IEnumerable<Type> arguments = method.IsGenericMethod ? method.GetGenericArguments() : [];
        return arguments.Prepend(method.DeclaringType!).SelectMany(Of).Distinct();

        static IEnumerable<Assembly> Of(Type type) =>
            type.HasElementType ? Of(type.GetElementType()!)
            : type.GetGenericArguments().SelectMany(Of).Prepend(type.Assembly);
    }

    private static string Names(MethodBase method) => string.Concat(Assemblies(method).Select(a => a.GetName().Name + ";"));
}
