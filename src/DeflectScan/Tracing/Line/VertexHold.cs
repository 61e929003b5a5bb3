using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>What is known of a vertex besides the line, asked for where the vertex now is: a direction, how far along it the vertex belongs, and how well that is known.</summary>
/// <param name="now">Rod-plane mm.</param>
internal delegate (Vec2 Direction, double OffsetMm, double SdMm) VertexHold(Vec2 now);

/// <summary>Holds of some vertices as the fit takes them.</summary>
internal static class VertexHolds
{
    public static IReadOnlyList<VertexPull> Pulls(this IReadOnlyList<VertexHold?> holds, IReadOnlyList<Vec2> now)
    {
        List<VertexPull> pulls = [];
        for (int i = 0; i < now.Count; i++)
        {
            if (holds[i] is not { } hold)
                continue;
            (Vec2 direction, double offset, double sd) = hold(now[i]);
            pulls.Add(new VertexPull(i, direction, offset, sd));
        }

        return pulls;
    }
}
