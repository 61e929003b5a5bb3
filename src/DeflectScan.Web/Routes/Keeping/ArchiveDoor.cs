using System.Text.Json.Nodes;
using DeflectScan.Records;
using DeflectScan.Records.Model;
using Microsoft.AspNetCore.Http;

namespace DeflectScan.Web.Routes;

/// <summary>The archive as routes open it: any number read, one writes at a time; what it refuses is one sentence for the person.</summary>
/// <param name="folder">The archive's.</param>
/// <param name="changed">Told after each change.</param>
internal sealed class ArchiveDoor(string folder, Action changed) : IDisposable
{
    private readonly SemaphoreSlim _writing = new(1, 1);

    public string Folder => folder;

    /// <summary>Answers from the archive as it stands.</summary>
    public async Task Read(HttpContext http, Func<ArchiveReader, Task> answer)
    {
        await Guarded(http, async () =>
        {
            using ArchiveReader reader = Archive.OpenForReading(folder);
            await answer(reader);
        });
    }

    /// <summary>Changes the archive and answers with what then is there.</summary>
    public async Task Write(HttpContext http, Func<ArchiveWriter, JsonNode> change)
    {
        await Guarded(http, async () =>
        {
            await _writing.WaitAsync(http.RequestAborted);
            JsonNode answer;
            try
            {
                using ArchiveWriter writer = Archive.OpenForWriting(folder);
                answer = change(writer);
            }
            finally
            {
                _writing.Release();
            }

            changed();
            await Answers.Node(http, answer);
        });
    }

    public void Dispose() => _writing.Dispose();

    private static async Task Guarded(HttpContext http, Func<Task> work)
    {
        try
        {
            await work();
        }
        catch (ArchiveException e) when (!http.Response.HasStarted)
        {
            int status = e.Problem switch
            {
                ArchiveProblem.Refused => StatusCodes.Status409Conflict,
                ArchiveProblem.NotThere => StatusCodes.Status404NotFound,
                ArchiveProblem.InUse => StatusCodes.Status423Locked,
                _ => StatusCodes.Status500InternalServerError,
            };
            await Answers.Refuse(http, status, e.Message);
        }
    }
}
