namespace DeflectScan.Photos;

/// <summary>Coded values of a photo and the light that they stand for: IEC 61966-2-1 (sRGB), from memory. 0 is black, 1 is white.</summary>
internal static class CodedLight
{
    private const int Steps = 4096;
    private const int Ranges = 2; // tables reach to coded 2: a filtered profile may pass white
    private static readonly float[] CodedTable = Filled(1, Coded);
    private static readonly float[] LinearTable = Filled(Ranges, Linear);

    /// <summary>Linear light of a coded value; below 0 the straight part goes on.</summary>
    public static double Linear(double coded) => coded <= 0.04045 ? coded / 12.92 : Math.Pow((coded + 0.055) / 1.055, 2.4);

    /// <summary>Coded value of linear light; below 0 the straight part goes on.</summary>
    public static double Coded(double linear) => linear <= 0.0031308 ? linear * 12.92 : (1.055 * Math.Pow(linear, 1 / 2.4)) - 0.055;

    /// <summary>As <see cref="Coded"/>, from a table, within 1e-4; light is held to 0 to 1.</summary>
    public static float QuickCoded(float linear) => Between(CodedTable, Math.Clamp(linear, 0f, 1f) * Steps);

    /// <summary>As <see cref="Linear"/>, from a table, within 1e-5; coded values are held to 0 to 2.</summary>
    public static float QuickLinear(float coded) => Between(LinearTable, Math.Clamp(coded, 0f, Ranges) * Steps);

    private static float Between(float[] table, float x)
    {
        int i = Math.Min((int)x, table.Length - 2);
        return table[i] + ((x - i) * (table[i + 1] - table[i]));
    }

    private static float[] Filled(int ranges, Func<double, double> of)
    {
        float[] table = new float[(ranges * Steps) + 1];
        for (int i = 0; i < table.Length; i++)
            table[i] = (float)of((double)i / Steps);
        return table;
    }
}
