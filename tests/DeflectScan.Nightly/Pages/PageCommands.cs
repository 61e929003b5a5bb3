using System.CommandLine;
using System.Diagnostics;

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
    }
}
