namespace DeflectScan.Numerics;

/// <summary>The middle value without sorting everything: quickselect (Hoare 1961, Algorithm 65).</summary>
internal static class Quickselect
{
    /// <summary>The value that stands at place count / 2 when sorted; the values are moved about. Not for an empty span.</summary>
    public static float Of(Span<float> values) => At(values, values.Length / 2);

    /// <summary>The value that stands at a place when sorted; the values are moved about.</summary>
    public static float At(Span<float> values, int place)
    {
        int low = 0;
        int high = values.Length - 1;
        while (low < high)
        {
            float pivot = MiddleOfThree(values[low], values[(low + high) / 2], values[high]);
            int i = low;
            int j = high;
            while (i <= j)
            {
                while (values[i] < pivot)
                    i++;
                while (values[j] > pivot)
                    j--;
                if (i > j)
                    break;
                (values[i], values[j]) = (values[j], values[i]);
                i++;
                j--;
            }

            if (place <= j)
                high = j;
            else if (place >= i)
                low = i;
            else
                break;
        }

        return values[place];
    }

    private static float MiddleOfThree(float a, float b, float c) => MathF.Max(MathF.Min(a, b), MathF.Min(MathF.Max(a, b), c));
}
