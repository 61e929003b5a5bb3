using System.CommandLine;
using System.Diagnostics;
using DeflectScan.Nightly.Archives;
using DeflectScan.Web;
using DeflectScan.Web.Serving;

namespace DeflectScan.Nightly.Pages;

/// <summary>The long runs over the page's server.</summary>
internal static class PageCommands
{
    public static IEnumerable<Command> All()
    {
        Option<int> seed = new("--seed") { Description = "Series of the random choices.", DefaultValueFactory = _ => 1 };
        Option<int> count = new("--count") { Description = "How many kills.", DefaultValueFactory = _ => 50 };
        Command kill = new("page-kill", "Kills the page's server at random moments while photos arrive, rings are dragged and builds are made.") { count, seed };
        kill.SetAction(async parsed =>
        {
            long start = Stopwatch.GetTimestamp();
            PageKillResult result = await PageKill.Run(parsed.GetValue(seed), parsed.GetValue(count));
            foreach (string fault in result.Faults)
                Console.WriteLine(fault);
            Console.WriteLine(
                $"{parsed.GetValue(count)} kills; acknowledged and looked for: {result.Photos} photos, {result.Corrections} corrections, {result.Builds} builds, {result.Targets} targets; "
                + $"{result.Unmeasured} photos were not measured when the server was killed; {result.Faults.Count} faults, {Stopwatch.GetElapsedTime(start).TotalSeconds:0} s");
            return result.Faults.Count == 0 ? 0 : 1;
        });
        yield return kill;
        Argument<string> folder = new("DIR");
        Command worker = new("page-worker", "The process that page-kill kills.") { folder, seed };
        worker.SetAction((parsed, cancel) => PageWorker.Run(parsed.GetValue(folder)!, parsed.GetValue(seed), cancel));
        yield return worker;
        Argument<string[]> scenes = new("DIR") { Description = "Folders with photo.jpg and truth.json, or a folder of such.", Arity = ArgumentArity.OneOrMore };
        Option<int> most = new("--most") { Description = "Review photos at most.", DefaultValueFactory = _ => 10 };
        Command review = new("page-review", "Corrects photos that land in review as the page does: one touch a pin, as the truth says, and nowhere else.") { scenes, most };
        review.SetAction(parsed => PageReview.Run(parsed.GetValue(scenes)!, parsed.GetValue(most)));
        yield return review;
        foreach (Command command in Classes())
            yield return command;
    }

    private static IEnumerable<Command> Classes()
    {
        Option<int> phones = new("--phones") { Description = "How many phones.", DefaultValueFactory = _ => 30 };
        Option<string?> program = new("--program") { Description = "The program as it is installed, whose server is asked. [default: this build, which compiles as it runs]" };
        Option<int> after = new("--after") { Description = "Acknowledged photos after which the server is killed.", DefaultValueFactory = _ => 12 };
        Command load = new("class-phones", "Phones of a class send a 12 MP photo each within a second.") { phones, program };
        load.SetAction(parsed => OnAnArchive(folder => new ClassPhones(parsed.GetValue(phones), parsed.GetValue(program)).Run(folder, null)));
        yield return load;
        Command kill = new("class-kill", "The same, and the server is killed while they arrive: what was acknowledged is there and is measured.") { phones, after };
        kill.SetAction(parsed => OnAnArchive(folder => new ClassPhones(parsed.GetValue(phones)).Run(folder, parsed.GetValue(after))));
        yield return kill;
        Argument<string[]> photos = new("NAME") { Description = "Photos of testimages.", Arity = ArgumentArity.OneOrMore };
        Option<int> rounds = new("--rounds") { Description = "How often each.", DefaultValueFactory = _ => 3 };
        Command cost = new("class-cost", "Where the time of a class's photo goes: wall and processor time of each step, warm.") { photos, rounds };
        cost.SetAction(parsed => ClassCost.Run(parsed.GetValue(photos)!, parsed.GetValue(rounds)));
        yield return cost;
        Argument<string> place = new("DIR");
        Command worker = new("class-worker", "The server of both.") { place };
        worker.SetAction(async (parsed, cancel) =>
        {
            await using PageServer server = await PageServer.Start(new ServeOptions(parsed.GetValue(place)!, 0, MeasureOptions.Default) { IsForPhones = true });
            Console.WriteLine(server.Address);
            await Task.Delay(Timeout.Infinite, cancel);
        });
        yield return worker;
    }

    private static async Task<int> OnAnArchive(Func<string, Task<int>> run)
    {
        using Scratch scratch = new();
        return await run(scratch["archive"]);
    }
}
