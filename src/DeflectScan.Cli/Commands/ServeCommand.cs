using System.CommandLine;
using System.Diagnostics;
using DeflectScan.Cli.Options;
using DeflectScan.Cli.Running;
using DeflectScan.Web;
using DeflectScan.Web.Serving;

namespace DeflectScan.Cli.Commands;

/// <summary><c>deflectscan serve</c>: the page in the browser.</summary>
internal static class ServeCommand
{
    public static Command Make(Terminal terminal)
    {
        Option<string?> archive = ArchiveOption.Make();
        archive.Recursive = false;
        Option<int?> port = new("--port") { CustomParser = NumberText.Whole, HelpName = "N", Description = $"TCP port on 127.0.0.1; 0 takes a free one. [default: {ServeOptions.UsualPort}]" };
        Option<bool> lan = new("--lan") { Description = "Let phones of the same network in, each with a code that is good once and is shown as a QR code." };
        Option<string?> watch = new("--watch") { HelpName = "DIR", Description = "Take in the photos that come into this folder, as if they were dropped on the page." };
        Option<bool> quiet = new("--no-browser") { Description = "Do not open a browser; the address is printed all the same." };
        Command command = new("serve", "Open the page: photos in, gaps out, corrections with a finger. It runs on this machine alone, until Ctrl+C.") { archive, port, lan, watch, quiet };
        ExitCodeHelp.State(command, 0, 1, 2, 3, 11, 12, 130);
        command.SetAction(async (parsed, cancel) =>
        {
            int chosen = parsed.GetValue(port) ?? ServeOptions.UsualPort;
            if (chosen is not (>= 0 and <= 65535) and var wrong)
                throw new UsageException($"The port must be from 0 to 65535, not {wrong}.");
            MeasureOptions measuring = MeasureOptions.Default with { LensFolders = LensFolders.All, Units = terminal.Settings.Units };
            await using PageServer server = await Start(new ServeOptions(ArchiveOption.Folder(parsed, archive), chosen, measuring) { IsForPhones = parsed.GetValue(lan), WatchFolder = parsed.GetValue(watch) });
            terminal.Out.WriteLine(server.Address);
            terminal.Say($"The page is served at the address above{(parsed.GetValue(lan) ? "" : ", to this machine alone")}; Ctrl+C ends it.");
            if (parsed.GetValue(lan))
                Invite(terminal, server);
            if (!parsed.GetValue(quiet))
                Open(server.Address);
            await Task.WhenAny(Task.Delay(Timeout.Infinite, cancel));
            return ExitCode.Ok;
        });
        return command;
    }

    private static async Task<PageServer> Start(ServeOptions options)
    {
        try
        {
            return await PageServer.Start(options);
        }
        catch (IOException e)
        {
            throw new UsageException(e.Message);
        }
    }

    private static void Invite(Terminal terminal, PageServer server)
    {
        if (server.ForPhones is not var (link, letters))
        {
            terminal.Say("This machine is on no network that a phone could come over: connect it, then start again.");
            return;
        }

        terminal.Error.WriteLine(letters);
        terminal.Say($"Scan this with a phone of the same network, or open {link}; it is good once. The page shows the next code under \"A phone\".");
    }

    /// <summary>Where nothing opens it, the address stands on the terminal.</summary>
    private static void Open(string address)
    {
        string opener = OperatingSystem.IsMacOS() ? "open" : OperatingSystem.IsWindows() ? "explorer" : "xdg-open";
        try
        {
            using Process? _ = Process.Start(new ProcessStartInfo(opener, address) { UseShellExecute = false, RedirectStandardError = true, RedirectStandardOutput = true });
        }
        catch (System.ComponentModel.Win32Exception)
        {
            // There is no such program on this machine.
        }
    }
}
