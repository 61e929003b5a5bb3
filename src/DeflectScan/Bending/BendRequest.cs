namespace DeflectScan.Bending;

/// <summary>A bend that is asked for: by load, relative to the photographed one, or by how far the tip turns.</summary>
/// <param name="Factor">Pull over the reference photo's (0.02 to 20); null when asked by turn.</param>
/// <param name="TipTurnDeg">Turn of the tip against the clamp end in degrees (1 to 170); null when asked by load.</param>
public sealed record AskedBend(double? Factor, double? TipTurnDeg)
{
    /// <summary>The least and the largest pull, over the photographed one, that a bend is worked out for.</summary>
    public const double LeastFactor = 0.02;

    public const double MostFactor = 20;

    /// <summary>What is out of its range, one sentence; null where nothing is.</summary>
    public string? Problem =>
        Factor is not (null or (>= LeastFactor and <= MostFactor)) ? FormattableString.Invariant($"A load is from {LeastFactor} to {MostFactor} times the photographed one: give one of these.")
        : TipTurnDeg is not (null or (>= 1 and <= 170)) ? "A tip turn is from 1 to 170 degrees: give one of these."
        : null;

    public static AskedBend Load(double factor) => new(factor, null);

    public static AskedBend Turn(double tipTurnDeg) => new(null, tipTurnDeg);

    /// <summary>"1.5x" or "60°".</summary>
    public string Name => Factor is { } f ? FormattableString.Invariant($"{f:0.###}x") : FormattableString.Invariant($"{TipTurnDeg:0.#}°");
}

/// <summary>What to compute of an estimated blank.</summary>
/// <param name="Bends">None: the usual ones of that blank (<see cref="UsualBends"/>).</param>
public sealed record BendRequest(IReadOnlyList<AskedBend> Bends)
{
    /// <summary>Bends that are worked out at once (chosen: a picture shows no more).</summary>
    public const int MostBends = 12;

    /// <summary>What is out of its range, one sentence; null where nothing is.</summary>
    public string? FirstProblem() =>
        Bends.Count > MostBends ? $"At most {MostBends} bends can be asked for at once: ask for fewer." : Bends.Select(b => b.Problem).FirstOrDefault(p => p is not null);

    /// <summary>Photographed load and half, one and a half times and twice of it.</summary>
    public static BendRequest Default { get; } = new([AskedBend.Load(0.5), AskedBend.Load(1), AskedBend.Load(1.5), AskedBend.Load(2)]);

    /// <summary>Guides from the reel that best layouts leave where they are (0 to 30). Null: three inside the bend, one outside; common practice, no source.</summary>
    public int? HoldGuides { get; init; }

    /// <summary>Pull through the line over the rings in N, besides the cord's bends. Null: none.</summary>
    public double? LinePullN { get; init; }

    /// <summary>The same as a multiple of the photographed pull, which needs no scale. Null: none.</summary>
    public double? LinePullFactor { get; init; }
}
