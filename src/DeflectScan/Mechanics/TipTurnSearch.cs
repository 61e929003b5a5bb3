using DeflectScan.Findings;

namespace DeflectScan.Mechanics;

/// <summary>The pull that turns the tip by a given angle: secant steps on its logarithm.</summary>
internal static class TipTurnSearch
{
    private const int MostTurns = 60;
    private const double SettledDeg = 1e-7;

    /// <summary>The pull and its bend, or a refusal.</summary>
    /// <param name="tipTurnDeg">Degrees, positive.</param>
    /// <param name="start">A pull to start from.</param>
    /// <param name="solve">The bend under a pull, started from a near one.</param>
    public static (double Pull, Outcome<Bend> Bend) Find(double tipTurnDeg, double start, Func<double, Bend?, Outcome<Bend>> solve)
    {
        double log = Math.Log(start);
        Bend? near = null;
        double lastLog = double.NaN;
        double lastMiss = 0;
        for (int turn = 0; turn < MostTurns; turn++)
        {
            Outcome<Bend> solved = solve(Math.Exp(log), near);
            if (solved.IsRefused)
                return (Math.Exp(log), solved);
            near = solved.Value;
            double miss = near.TipTurnDeg - tipTurnDeg;
            if (Math.Abs(miss) < SettledDeg)
                return (Math.Exp(log), solved);
            double slope = double.IsNaN(lastLog) || lastLog == log ? near.TipTurnDeg : (miss - lastMiss) / (log - lastLog);
            (lastLog, lastMiss) = (log, miss);
            log -= Math.Clamp(miss / Math.Max(slope, 1), -0.7, 0.7);
        }

        return (Math.Exp(log), Outcome<Bend>.Refused(
            FindingCode.BendExcessive, $"No pull turns the tip by {tipTurnDeg:0} degrees in this direction: ask for a smaller turn."));
    }
}
