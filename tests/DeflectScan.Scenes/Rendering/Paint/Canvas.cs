using System.Numerics;
using DeflectScan.Scenes.Rendering.World;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>A band of rows of the picture in linear light, with the scratch that painting needs. One band is in memory at a time.</summary>
public sealed class Canvas
{
    private int _generation;

    public Canvas(SceneCamera camera, RayGrid rays, int rows)
    {
        Camera = camera;
        Rays = rays;
        Width = camera.WidthPx;
        int n = Width * rows;
        Pixels = new Vector3[n];
        Shadow = new float[n];
        Near = new float[n];
        Segment = new int[n];
        Part = new float[n];
        Stamp = new int[n];
    }

    public SceneCamera Camera { get; }

    public RayGrid Rays { get; }

    public int Width { get; }

    /// <summary>First row of the band in the picture (may lie outside it).</summary>
    public int Top { get; private set; }

    public int Rows { get; private set; }

    public int Bottom => Top + Rows;

    /// <summary>Linear RGB, row by row.</summary>
    public Vector3[] Pixels { get; }

    /// <summary>Share of the lamps' light that is kept off, 0 to 1.</summary>
    public float[] Shadow { get; }

    /// <summary>Scratch: squared distance to the nearest segment, that segment, the place on it, and whose it is.</summary>
    public float[] Near { get; }

    public int[] Segment { get; }

    public float[] Part { get; }

    public int[] Stamp { get; }

    public List<int> Touched { get; } = [];

    public void Begin(int top, int rows)
    {
        Top = top;
        Rows = rows;
        Array.Clear(Shadow);
    }

    public int NextGeneration()
    {
        Touched.Clear();
        return ++_generation;
    }

    public void Blend(int index, Vector3 colour, float coverage) => Pixels[index] += (colour - Pixels[index]) * coverage;
}

/// <summary>Something that can be painted on a band.</summary>
public interface IPaint
{
    /// <summary>First and last row that it can touch.</summary>
    public (double Top, double Bottom) RowsPx { get; }

    public void Paint(Canvas canvas);
}
