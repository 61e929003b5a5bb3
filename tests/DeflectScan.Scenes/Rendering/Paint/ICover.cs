using DeflectScan.Geometry;

namespace DeflectScan.Scenes.Rendering.Paint;

/// <summary>Something opaque that hides what lies behind it.</summary>
public interface ICover : IPaint
{
    /// <summary>A point of the picture, px, lies within its outline.</summary>
    public bool Covers(Vec2 px);
}
