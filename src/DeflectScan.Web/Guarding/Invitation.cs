using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text;
using QRCoder;

namespace DeflectScan.Web.Guarding;

/// <summary>
/// Lets phones of the same network in: a code that is good once, shown as a QR code at the machine itself, becomes a token in the phone's cookie. Wrong codes
/// are counted: after a few, none is taken for a minute, whoever sends it. Tokens live as long as the process.
/// </summary>
internal sealed class Invitation(TimeProvider clock)
{
    /// <summary>Letters and digits that are not taken for each other (Crockford's base 32).</summary>
    private const string Letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

    /// <summary>40 bits: with <see cref="MostWrong"/> a minute, guessing takes longer than a rod lives.</summary>
    private const int CodeLength = 8;

    /// <summary>The cookie that holds a phone's token.</summary>
    public const string Cookie = "deflectscan";

    public const int MostWrong = 5;
    private static readonly TimeSpan Pause = TimeSpan.FromMinutes(1);

    private readonly Lock _gate = new();
    private readonly HashSet<string> _tokens = new(StringComparer.Ordinal);
    private string _code = NewCode();
    private int _wrong;
    private DateTimeOffset _countedFrom = clock.GetUtcNow();

    /// <summary>The code that lets the next phone in.</summary>
    public string Code
    {
        get
        {
            lock (_gate)
                return _code;
        }
    }

    /// <summary>The token for a code, and the code is used up; null where it is wrong or too many were.</summary>
    public (string? Token, bool IsPaused) Enter(string code)
    {
        lock (_gate)
        {
            if (clock.GetUtcNow() - _countedFrom > Pause)
                (_wrong, _countedFrom) = (0, clock.GetUtcNow());
            if (_wrong >= MostWrong)
                return (null, true);
            if (!Same(code.ToUpperInvariant(), _code))
            {
                _wrong++;
                return (null, false);
            }

            _code = NewCode();
            string token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));
            _tokens.Add(Hash(token));
            return (token, false);
        }
    }

    public bool IsGuest(string? token)
    {
        lock (_gate)
            return token is { Length: 64 } && _tokens.Contains(Hash(token));
    }

    /// <summary>This machine's addresses on its networks, IPv4.</summary>
    public static IEnumerable<IPAddress> OwnAddresses() => NetworkInterface.GetAllNetworkInterfaces()
        .Where(n => n.OperationalStatus == OperationalStatus.Up && n.NetworkInterfaceType != NetworkInterfaceType.Loopback)
        .SelectMany(n => n.GetIPProperties().UnicastAddresses)
        .Select(a => a.Address)
        .Where(a => a.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(a));

    /// <summary>What the QR code says: the code stands behind #, which no browser sends on.</summary>
    public string Link(IPAddress address, int port) => $"http://{address}:{port}/enter#{Code}";

    public static byte[] Picture(string link)
    {
        using QRCodeGenerator maker = new();
        using QRCodeData data = maker.CreateQrCode(link, QRCodeGenerator.ECCLevel.M);
        using PngByteQRCode png = new(data);
        return png.GetGraphic(8);
    }

    /// <summary>For a terminal: half blocks, light on dark.</summary>
    public static string InLetters(string link)
    {
        using QRCodeGenerator maker = new();
        using QRCodeData data = maker.CreateQrCode(link, QRCodeGenerator.ECCLevel.L);
        using AsciiQRCode letters = new(data);
        return letters.GetGraphicSmall(drawQuietZones: true);
    }

    private static bool Same(string a, string b) => CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(a), Encoding.UTF8.GetBytes(b));

    private static string Hash(string token) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(token)));

    private static string NewCode() => RandomNumberGenerator.GetString(Letters, CodeLength);
}
