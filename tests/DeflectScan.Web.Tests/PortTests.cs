using System.Net;
using System.Net.Sockets;
using DeflectScan.Web.Serving;

namespace DeflectScan.Web.Tests;

/// <summary>What is said where the server cannot start: of the port only what is the port's.</summary>
public sealed class PortTests
{
    [Fact]
    public async Task APortThatAnotherProgramHasIsSaidToBeTaken()
    {
        using TcpListener other = new(IPAddress.Loopback, 0);
        other.Start();
        int port = ((IPEndPoint)other.LocalEndpoint).Port;
        string folder = Directory.CreateTempSubdirectory("deflectscan-port-").FullName;
        try
        {
            IOException refused = await Assert.ThrowsAsync<IOException>(() => PageServer.Start(new ServeOptions(Path.Combine(folder, "archive"), port, MeasureOptions.Default)));
            Assert.Contains($"Port {port} cannot be listened on: another program has it", refused.Message, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void AnythingElseIsNotPutOnAnotherProgram()
    {
        Assert.Null(PageServer.PortProblem(new IOException("The configured user limit on the number of inotify instances has been reached."), 8080));
        Assert.DoesNotContain("another program", PageServer.PortProblem(new SocketException((int)SocketError.AccessDenied), 80), StringComparison.Ordinal);
    }
}
