using System.Text;
using System.Text.Json.Nodes;

namespace DeflectScan.Scenes.Attacks;

/// <summary>Makes malformed JSON documents from whole ones; the same seed and number give the same text on any machine.</summary>
public sealed class DocumentMutator(string whole)
{
    /// <summary>What a member may be replaced by: other kinds, impossible figures, text that steers a terminal or a page.</summary>
    private static readonly string[] Instead =
    [
        "null", "true", "-1", "0", "1e999", "-1e308", "1e-320", "9999999999", "2147483648", "0.5", "[]", "{}", "\"\"", "[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]",
        "\"\\u001b[2J\\u001b]0;owned\\u0007\"", "\"<script>alert(1)</script>\"", "\"\\ud800\"", "\"[red]markup[/] \\u202e\"", "\"../../../etc/passwd\"", "\"1\"", "[0,0]", "[1,2,3]", "NaN", "\"Infinity\"",
    ];

    /// <summary>Mutant number <paramref name="number"/> of the series <paramref name="seed"/>.</summary>
    public string Make(int seed, int number)
    {
        Random draw = new(unchecked((seed * 1_000_003) + number)); // the seeded generator of .NET is kept the same from version to version
        if (draw.Next(6) == 0)
            return Cut(whole, draw);
        JsonNode root = JsonNode.Parse(whole)!;
        string mark = $"mutant-{number}-";
        List<string> values = [];
        int changes = 1 + draw.Next(3);
        for (int i = 0; i < changes; i++)
            Change(root, draw, mark, values);
        StringBuilder text = new(root.ToJsonString());
        for (int i = 0; i < values.Count; i++)
            text.Replace($"\"{mark}{i}\"", values[i]);
        return text.ToString();
    }

    private static void Change(JsonNode root, Random draw, string mark, List<string> values)
    {
        List<JsonNode> inner = [];
        Gather(root, inner);
        JsonNode at = inner[draw.Next(inner.Count)];
        switch (at)
        {
            case JsonObject { Count: > 0 } o:
                string name = o.ElementAt(draw.Next(o.Count)).Key;
                if (draw.Next(4) == 0)
                    o.Remove(name);
                else
                    o[name] = Placeholder();
                break;
            case JsonArray { Count: > 0 } a when draw.Next(3) == 0:
                int some = draw.Next(a.Count);
                int times = draw.Next(2) == 0 ? 1 : 500;
                for (int i = 0; i < times; i++)
                    a.Add(a[some]?.DeepClone());
                break;
            case JsonArray { Count: > 0 } a:
                if (draw.Next(3) == 0)
                    a.RemoveAt(draw.Next(a.Count));
                else
                    a[draw.Next(a.Count)] = Placeholder();
                break;
        }

        JsonValue Placeholder()
        {
            values.Add(Instead[draw.Next(Instead.Length)]);
            return JsonValue.Create($"{mark}{values.Count - 1}");
        }
    }

    private static void Gather(JsonNode? node, List<JsonNode> into)
    {
        if (node is JsonObject or JsonArray)
            into.Add(node);
        foreach (JsonNode? child in node is JsonObject o ? o.Select(p => p.Value) : node as JsonArray ?? Enumerable.Empty<JsonNode?>())
            Gather(child, into);
    }

    private static string Cut(string text, Random draw)
    {
        int at = draw.Next(text.Length);
        return draw.Next(4) switch
        {
            0 => text[..at],
            1 => text.Remove(at, Math.Min(text.Length - at, 1 + draw.Next(50))),
            2 => text.Insert(at, new string('[', 100_000)),
            _ => text.Insert(at, new string((char)draw.Next(1, 256), 1 + draw.Next(20))),
        };
    }
}
