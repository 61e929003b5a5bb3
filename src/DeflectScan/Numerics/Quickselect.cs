using System.Numerics;

namespace DeflectScan.Numerics;

/// <summary>The middle value without sorting everything: quickselect (Hoare 1961, Algorithm 65).</summary>
internal static class Quickselect
{
    /// <summary>The value that stands at place count / 2 when sorted; the values are moved about. Not for an empty span.</summary>
    public static T Of<T>(Span<T> values)
        where T : struct, IFloatingPointIeee754<T> => At(values, values.Length / 2);

    /// <summary>The value that stands at a place when sorted; the values are moved about.</summary>
    public static T At<T>(Span<T> values, int place)
        where T : struct, IFloatingPointIeee754<T>
    {
        int low = 0;
        int high = values.Length - 1;
        while (low < high)
        {
            T pivot = MiddleOfThree(values[low], values[(low + high) / 2], values[high]);
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

    private static T MiddleOfThree<T>(T a, T b, T c)
        where T : struct, IFloatingPointIeee754<T> => T.Max(T.Min(a, b), T.Min(T.Max(a, b), c));
}
