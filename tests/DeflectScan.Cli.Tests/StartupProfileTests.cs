using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using DeflectScan.Scenes;
using DeflectScan.Startup;

namespace DeflectScan.Cli.Tests;

/// <summary>
/// The list of methods for the compiler ahead of time. Its form is checked against that which dotnet/runtime states at MIbcProfileParser: global
/// methods that load method tokens, and one named AssemblyDictionary that loads them.
/// </summary>
public sealed class StartupProfileTests
{
    [Fact]
    public void WhatIsWrittenIsRead()
    {
        string path = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.mibc");
        try
        {
            MethodInfo add = typeof(List<double>).GetMethod(nameof(List<>.Add))!;
            MethodInfo empty = typeof(Array).GetMethod(nameof(Array.Empty))!.MakeGenericMethod(typeof(int));
            ProfileFile.Write(path, [add, empty]);
            Module module = Assembly.Load(File.ReadAllBytes(path)).ManifestModule;
            MethodInfo[] holders = [.. module.GetMethods().Where(m => m.Name.StartsWith("Assemblies_", StringComparison.Ordinal))];
            Assert.Single(module.GetMethods(), m => m.Name == "AssemblyDictionary");
            Assert.Equal([add, empty], holders.SelectMany(h => Tokens(h).Select(t => module.ResolveMethod(t))));
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>A profile of which little is left in the program no longer serves: tests/DeflectScan.Startup writes a new one.</summary>
    [Fact]
    public void TheProgramsProfileNamesTypesThatItHas()
    {
        string path = Path.Combine(Repository.Root, "src", "DeflectScan.Cli", "startup.mibc");
        using PEReader file = new(new MemoryStream(File.ReadAllBytes(path)));
        MetadataReader reader = file.GetMetadataReader();
        string[] named =
        [
            .. reader.TypeReferences.Select(reader.GetTypeReference)
                .Where(t => t.ResolutionScope.Kind == HandleKind.AssemblyReference && reader.GetString(t.Namespace).StartsWith("DeflectScan", StringComparison.Ordinal))
                .Select(t => $"{reader.GetString(t.Namespace)}.{reader.GetString(t.Name)}"),
        ];
        HashSet<string?> own = [.. typeof(Measurement).Assembly.GetTypes().Concat(typeof(CliApp).Assembly.GetTypes()).Select(t => t.FullName)];
        Assert.True(named.Length > 20, $"{named.Length} types");
        Assert.True(named.Count(own.Contains) > named.Length / 2, string.Join(", ", named.Where(n => !own.Contains(n))));
    }

    /// <summary>What is loaded by the instruction ldtoken (0xD0, ECMA-335 III.4.17), each followed by pop (0x26) but for the last ret (0x2A).</summary>
    private static IEnumerable<int> Tokens(MethodInfo method)
    {
        byte[] code = method.GetMethodBody()!.GetILAsByteArray()!;
        Assert.Equal(0x2A, code[^1]);
        for (int i = 0; i < code.Length - 1; i += 6)
        {
            Assert.Equal((0xD0, 0x26), (code[i], code[i + 5]));
            yield return BitConverter.ToInt32(code, i + 1);
        }
    }
}
