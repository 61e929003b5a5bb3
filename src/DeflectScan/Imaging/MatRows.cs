using OpenCvSharp;

namespace DeflectScan.Imaging;

/// <summary>Rows of a Mat as spans.</summary>
internal static class MatRows
{
    public static unsafe Span<float> AsSpanOfRow(this Mat mat, int row) => new((void*)mat.Ptr(row), mat.Cols);

    public static unsafe ReadOnlySpan<byte> AsSpanOfBytes(this Mat mat, int row) => new((void*)mat.Ptr(row), mat.Cols * mat.Channels());
}
