using DeflectScan.Calibration.Lens;

namespace DeflectScan.Cli.Running;

/// <summary>What a lens is calibrated from.</summary>
/// <param name="Photos">Files.</param>
/// <param name="File">The profile to write.</param>
/// <param name="Board">A chessboard; null: scale cards.</param>
/// <param name="Name">What reports call the lens; null: the camera's model.</param>
internal sealed record LensRequest(IReadOnlyList<string> Photos, string File, BoardPattern? Board, string? Name);
