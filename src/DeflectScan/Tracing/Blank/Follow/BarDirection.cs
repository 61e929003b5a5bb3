namespace DeflectScan.Tracing.Blank;

/// <summary>Directions of bars, either sense, in 256 steps over half a turn: one byte a pixel and no trigonometry in the loops.</summary>
internal static class BarDirection
{
    private static readonly float[] Cosines = [.. Enumerable.Range(0, 256).Select(i => (float)Math.Cos(i * Math.PI / 256))];
    private static readonly float[] Sines = [.. Enumerable.Range(0, 256).Select(i => (float)Math.Sin(i * Math.PI / 256))];

    public static byte Index(float dx, float dy)
    {
        float turns = MathF.Atan2(dy, dx) * (256 / MathF.PI);
        return (byte)((int)MathF.Round(turns) & 255);
    }

    /// <summary>x of the unit vector along the bar.</summary>
    public static float X(byte index) => Cosines[index];

    /// <summary>y of the unit vector along the bar.</summary>
    public static float Y(byte index) => Sines[index];
}
