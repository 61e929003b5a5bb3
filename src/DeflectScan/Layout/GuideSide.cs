namespace DeflectScan.Layout;

/// <summary>Where the guides of a layout stand with respect to the bend.</summary>
public enum GuideSide
{
    /// <summary>On the concave side (spinning): the line moves away from the blank between guides.</summary>
    Inside,

    /// <summary>On the convex side (casting): the line falls towards the blank between guides.</summary>
    Outside,
}
