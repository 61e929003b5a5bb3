namespace DeflectScan.Records.Finding;

/// <summary>What a list is sorted by.</summary>
public enum ListOrder
{
    /// <summary>The build that was changed last first.</summary>
    Changed,

    /// <summary>By name, A first.</summary>
    Name,

    /// <summary>The longest blank first; unknown last.</summary>
    Length,

    /// <summary>The largest gap of the latest test first; unknown last.</summary>
    Gap,

    /// <summary>By the running pair that follows worst: the largest bow first, then, of guides outside the bend, the least clearance first; unknown last.</summary>
    Worst,

    /// <summary>The largest turn of the tip first; unknown last.</summary>
    Turn,
}

/// <summary>Which builds a list has, and in which order; whatever is null does not count.</summary>
public sealed record ListQuery
{
    /// <summary>All of them, the one changed last first.</summary>
    public static ListQuery All { get; } = new();

    public ListOrder Order { get; init; }

    /// <summary>Part of the owner's name, whatever the case.</summary>
    public string? Owner { get; init; }

    /// <summary>Part of the use, whatever the case.</summary>
    public string? Use { get; init; }

    /// <summary>"inside" or "outside".</summary>
    public string? Side { get; init; }

    internal (string Where, object?[] Values) Filter(int firstNumber)
    {
        List<string> parts = [];
        List<object?> values = [];
        Add("instr(lower(owner), lower({0})) > 0", Owner);
        Add("instr(lower(rod_use), lower({0})) > 0", Use);
        Add("side = {0}", Side);
        return (parts.Count == 0 ? "" : " WHERE " + string.Join(" AND ", parts), [.. values]);

        void Add(string condition, string? value)
        {
            if (value is null)
                return;
            parts.Add(condition.Replace("{0}", $"${firstNumber + values.Count}", StringComparison.Ordinal));
            values.Add(value);
        }
    }

    internal string OrderBy => Order switch
    {
        ListOrder.Name => "name COLLATE NOCASE, build_id",
        ListOrder.Length => "blank_length_mm DESC NULLS LAST, build_id",
        ListOrder.Gap => "largest_gap_mm DESC NULLS LAST, build_id",
        ListOrder.Worst => "worst_by NULLS LAST, CASE worst_by WHEN 'bow' THEN -worst_mm ELSE worst_mm END, build_id",
        ListOrder.Turn => "tip_turn_deg DESC NULLS LAST, build_id",
        _ => "changed_at DESC, build_id DESC",
    };
}
