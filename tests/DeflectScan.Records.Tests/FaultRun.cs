using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records.Tests;

/// <summary>Something that writes to an archive, done on copies of a folder with each step that reaches the disk failing once, in turn.</summary>
internal static class FaultRun
{
    /// <summary>
    /// After each fault the archive must be clean, hold all that it held before, and be either just that or complete; where it is not complete the
    /// same thing done again must complete it.
    /// </summary>
    /// <param name="scratch">Where the copies are made.</param>
    /// <param name="start">The archive's folder; it is left as it is.</param>
    /// <param name="after">Steps fail after they are done and not before.</param>
    /// <param name="work">What is done. Returning means that it was acknowledged.</param>
    /// <returns>The names of the steps that failed, and how often the archive was left as before and complete.</returns>
    public static (HashSet<string> Failed, int AsBefore, int Complete) EachStep(Scratch scratch, string start, bool after, Action<string, IDurableFiles> work)
    {
        string[] before = State.Of(start);
        string whole = scratch["whole"];
        Scratch.Copy(start, whole);
        work(whole, DiskFiles.Instance);
        int complete = State.Of(whole).Length;
        HashSet<string> failed = [];
        (int asBefore, int completed) = (0, 0);
        for (int step = 0; ; step++)
        {
            string folder = scratch[$"at {step}"];
            Scratch.Copy(start, folder);
            FaultyFiles files = new(step, after);
            Exception? fault = Record.Exception(() => work(folder, files));
            if (!files.HasFailed)
            {
                Assert.Null(fault);
                return (failed, asBefore, completed);
            }

            failed.Add(files.Failed!);
            string where = $"step {step} ({files.Failed})";
            Assert.True(fault is null or ArchiveException { Problem: ArchiveProblem.DiskFull }, $"{where}: {fault}");
            CheckReport report = ArchiveCheck.Run(folder);
            Assert.True(report.IsClean, $"{where}: {string.Join("; ", report.Damages)}");
            string[] state = State.Of(folder);
            if (state.Length == complete)
            {
                Assert.True(before.ToHashSet().IsSubsetOf(state), $"{where}: something is gone");
                completed++;
            }
            else
            {
                Assert.True(before.SequenceEqual(state), $"{where}: between, {before.Length}, {state.Length} and not {complete} facts");
                Assert.True(fault is not null, $"{where}: acknowledged and lost");
                asBefore++;
                work(folder, DiskFiles.Instance);
                Assert.Equal(complete, State.Of(folder).Length);
            }

            Directory.Delete(folder, recursive: true);
        }
    }
}
