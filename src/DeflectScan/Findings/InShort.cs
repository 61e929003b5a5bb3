using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace DeflectScan.Findings;

/// <summary>
/// Many sentences of one cause as one: where they differ only in numbers, the first number that differs becomes a list of all of them (the places), any
/// other one the range that it lies in. A person reads one sentence a cause; the document keeps all.
/// </summary>
public static partial class InShort
{
    private const int MostListed = 12;

    /// <summary>One finding a cause, in the order in which the causes first come.</summary>
    public static IReadOnlyList<Finding> Of(IEnumerable<Finding> findings) =>
        [.. findings.GroupBy(f => (f.Code, f.Severity, Form(f.Message))).Select(g => g.First() with
        {
            Message = Merge([.. g.Select(f => f.Message)]), Places = [.. g.SelectMany(f => f.Places).Distinct().OrderBy(p => p.FromMm)],
        })];

    /// <summary>One sentence a cause, in the order in which the causes first come.</summary>
    public static IReadOnlyList<string> Of(IEnumerable<string> sentences) => [.. sentences.GroupBy(Form, StringComparer.Ordinal).Select(g => Merge([.. g]))];

    private static string Form(string sentence) => Numbers().Replace(sentence, "#");

    private static string Merge(string[] alike)
    {
        string[] sentences = [.. alike.Distinct(StringComparer.Ordinal)];
        if (sentences.Length == 1)
            return sentences[0];
        Match[][] numbers = [.. sentences.Select(s => Numbers().Matches(s).ToArray())];
        StringBuilder merged = new();
        int at = 0;
        bool listed = false;
        for (int i = 0; i < numbers[0].Length; i++)
        {
            string[] values = [.. numbers.Select(n => n[i].Value).Distinct(StringComparer.Ordinal)];
            merged.Append(sentences[0], at, numbers[0][i].Index - at);
            at = numbers[0][i].Index + numbers[0][i].Length;
            merged.Append(values.Length == 1 ? values[0] : listed ? Range(values) : List(values));
            listed |= values.Length > 1;
        }

        return merged.Append(sentences[0], at, sentences[0].Length - at).ToString();
    }

    private static string List(string[] values) => values.Length > MostListed
        ? $"{string.Join(", ", values[..MostListed])} and {values.Length - MostListed} more"
        : $"{string.Join(", ", values[..^1])} and {values[^1]}";

    private static string Range(string[] values)
    {
        string[] sorted = [.. values.OrderBy(v => double.Parse(v, NumberStyles.Float, CultureInfo.InvariantCulture))];
        return $"{sorted[0]} to {sorted[^1]}";
    }

    [GeneratedRegex(@"(?<![\w.])-?\d+(\.\d+)?(?![\w]*\d)", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Numbers();
}
