using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Line;

/// <summary>The line measured on the photo.</summary>
/// <param name="Solution">Its vertices, from the hanging end or the tip-top to towards the reel.</param>
/// <param name="Windows">What was seen of each segment.</param>
/// <param name="Kinds">What the vertices are.</param>
/// <param name="Tip">Which of them is the tip-top's contact: 1 where the hanging line was seen, else 0.</param>
internal sealed record FittedLine(PolylineSolution Solution, List<LineWindow>[] Windows, IReadOnlyList<LineVertex> Kinds, int Tip);
