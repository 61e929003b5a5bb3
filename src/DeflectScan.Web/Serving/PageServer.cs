using System.Net;
using System.Net.Sockets;
using DeflectScan.Findings;
using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Records.Storage;
using DeflectScan.Web.Guarding;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Routes;
using DeflectScan.Web.Storing;
using DeflectScan.Web.Teaching;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace DeflectScan.Web.Serving;

/// <summary>The page's server, on 127.0.0.1, and where asked for on the machine's networks, too. It asks nothing of any other machine.</summary>
public sealed class PageServer : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly Bench _bench;
    private readonly ClassBench _classes;
    private readonly WatchedFolder? _watched;
    private readonly CancellationTokenSource _ends;

    private readonly Invitation? _invitation;
    private readonly int _port;

    private PageServer(WebApplication app, Bench bench, ClassBench classes, WatchedFolder? watched, CancellationTokenSource ends, int port, Invitation? invitation)
    {
        (_app, _bench, _classes, _watched, _ends, _port, _invitation) = (app, bench, classes, watched, ends, port, invitation);
        Address = $"http://127.0.0.1:{port}/";
    }

    /// <summary>What to open in a browser.</summary>
    public string Address { get; }

    /// <summary>What a phone opens, and the same as a QR code in letters; null without a network or where phones are not let in.</summary>
    public (string Link, string InLetters)? ForPhones => _invitation is not null && Invitation.OwnAddresses().FirstOrDefault() is { } address
        ? (_invitation.Link(address, _port), Invitation.InLetters(_invitation.Link(address, _port)))
        : null;

    /// <summary>Starts it; the archive is made where there is none, and photos that were not measured yet are.</summary>
    /// <exception cref="ArchiveException">The archive cannot be made or is in use.</exception>
    /// <exception cref="IOException">The port is taken, or the folder to watch cannot be watched; one sentence for the user.</exception>
    public static async Task<PageServer> Start(ServeOptions options)
    {
        if (WatchedFolder.FirstProblem(options) is { } problem)
            throw new IOException(problem);
        if (!Archive.IsThere(options.ArchiveFolder))
            Archive.Create(options.ArchiveFolder);
        LeaveRoom();
        Bench bench = new(new BenchFolder(options.ArchiveFolder, DiskFiles.Instance, TimeProvider.System), options);
        ClassBench classes = new(new ClassRooms(options.ArchiveFolder, DiskFiles.Instance.FlushFolder, TimeProvider.System), bench);
        ClassSheets sheets = new(classes, bench);
        CancellationTokenSource ends = new();
        WebApplication app = Build(options);
        WatchedFolder? watched = null;
        try
        {
            Invitation? invitation = options.IsForPhones ? new Invitation(TimeProvider.System) : null;
            app.Use((http, next) => Guarded(http, next, invitation));
            if (invitation is not null)
                EnterRoutes.Map(app, invitation);
            PageRoutes.Map(app, options);
            PhotoRoutes.Map(app, bench, options);
            CorrectionRoutes.Map(app, bench);
            PictureRoutes.Map(app, bench);
            SeriesRoutes.Map(app, bench);
            KeepingRoutes.Map(app, options, bench);
            EventRoutes.Map(app, bench, ends.Token);
            TryRoutes.Map(app, bench);
            AcceptRoutes.Map(app, bench);
            ProofRoutes.Map(app, bench);
            StartRoutes.Map(app);
            ClassRoutes.Map(app, classes, options.IsForPhones, ends.Token);
            SheetRoutes.Map(app, classes, sheets);
            StudentRoutes.Map(app, classes, bench, options, ends.Token);
            watched = options.WatchFolder is { } folder ? new WatchedFolder(folder, bench, options) : null;
            WatchRoutes.Map(app, watched);
            app.MapFallback((HttpContext http) => Answers.Refuse(http, StatusCodes.Status404NotFound, "There is nothing at this address."));
            await app.StartAsync();
            string address = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
            return new PageServer(app, bench, classes, watched, ends, new Uri(address).Port, invitation);
        }
        catch (Exception e)
        {
            watched?.Dispose();
            classes.Dispose();
            bench.Dispose();
            await app.DisposeAsync();
            if (PortProblem(e, options.Port) is { } sentence)
                throw new IOException(sentence, e);
            throw;
        }
    }

    /// <summary>Why a port cannot be listened on, one sentence; null where that is not what went wrong.</summary>
    internal static string? PortProblem(Exception e, int port) =>
        e.InnerException is AddressInUseException ? $"Port {port} cannot be listened on: another program has it; choose another port, or 0 for any free one."
        : e is SocketException ? $"Port {port} cannot be listened on ({e.Message}): choose another port, from 1024 on, or 0 for any free one."
        : null;

    public async ValueTask DisposeAsync()
    {
        await _ends.CancelAsync();
        await _app.StopAsync();
        await _app.DisposeAsync();
        _watched?.Dispose();
        _classes.Dispose();
        _bench.Dispose();
        _ends.Dispose();
    }

    /// <summary>
    /// Measuring fills the pool's threads with work of a second and more, and the pool adds one only twice a second: an answer waited for that (board of thirty
    /// phones: 303 ms at 95 %). So many threads more are at hand at once (chosen: more never answer at once on so few processors), and the system shares the processors out.
    /// </summary>
    private static void LeaveRoom()
    {
        const int ForAnswers = 8;
        ThreadPool.GetMinThreads(out int workers, out int ports);
        ThreadPool.SetMinThreads(Math.Max(workers, Environment.ProcessorCount + ForAnswers), ports);
    }

    private static WebApplication Build(ServeOptions options)
    {
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.Logging.ClearProviders();
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = 1 << 16;
            kestrel.Limits.MaxConcurrentConnections = 200;
            kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
            kestrel.Listen(options.IsForPhones ? IPAddress.Any : IPAddress.Loopback, options.Port);
        });
        builder.Services.AddRoutingCore();
        return builder.Build();
    }

    private static async Task Guarded(HttpContext http, RequestDelegate next, Invitation? invitation)
    {
        RequestGuard.Protect(http.Response.Headers);
        if (RequestGuard.Refusal(http, invitation) is var (status, sentence))
        {
            await Answers.Refuse(http, status, sentence);
            return;
        }

        try
        {
            await next(http);
        }
        catch (OperationCanceledException) when (http.RequestAborted.IsCancellationRequested)
        {
            // The page was closed.
        }
        catch (BadHttpRequestException e) when (!http.Response.HasStarted)
        {
            await Answers.Refuse(http, e.StatusCode, e.StatusCode == StatusCodes.Status413PayloadTooLarge ? "More was sent than is taken here: send less at once." : "The request is not as a browser sends it.");
        }
        catch (InputException e) when (!http.Response.HasStarted)
        {
            await Answers.Refuse(http, StatusCodes.Status400BadRequest, e.Message);
        }
        catch (Exception e) when (!http.Response.HasStarted && e is IOException or UnauthorizedAccessException or ArchiveException)
        {
            await Answers.Refuse(http, StatusCodes.Status500InternalServerError, $"It could not be kept: {e.Message}");
        }
    }
}
