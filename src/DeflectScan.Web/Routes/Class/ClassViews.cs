using System.Text.Json.Nodes;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Boards;
using DeflectScan.Teaching;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Teaching;
using DeflectScan.Web.Words;

namespace DeflectScan.Web.Routes;

/// <summary>Classes as the page is told of them.</summary>
internal static class ClassViews
{
    public static JsonObject Listed(ClassRoom room)
    {
        (IReadOnlyList<ClassStudent> students, IReadOnlyList<ClassTry> tries) = room.Now();
        return new JsonObject { ["id"] = room.Id, ["title"] = room.Facts.Title, ["madeAt"] = room.MadeAt.ToString("O"), ["students"] = students.Count, ["photos"] = tries.Count, ["open"] = room.Facts.IsOpen };
    }

    /// <summary>The board. A student's is without what only the instructor may know.</summary>
    /// <param name="classes">All classes.</param>
    /// <param name="room">The class.</param>
    /// <param name="unit">Of the sentences.</param>
    /// <param name="own">The student who asks; null for the instructor.</param>
    public static JsonObject Board(ClassBench classes, ClassRoom room, LengthUnit unit, ClassStudent? own = null)
    {
        ClassReport report = classes.Report(room);
        (IReadOnlyList<ClassStudent> students, IReadOnlyList<ClassTry> tries) = room.Now();
        JsonObject board = new()
        {
            ["facts"] = room.Facts.ToJson(),
            ["standsOut"] = new JsonArray([.. report.StandsOut.Select(s => (JsonNode?)PageWords.Of(s, unit))]),
            ["longestMm"] = Math.Round(report.LongestMm, 1), ["tallestMm"] = Math.Round(report.TallestMm, 1), ["tallestRunningMm"] = Math.Round(report.TallestRunningMm, 1), ["deepestMm"] = Math.Round(report.DeepestMm, 1),
            ["rods"] = new JsonArray([.. report.Rods.Select(r => (JsonNode?)Rod(classes, r, students, tries, unit, own))]),
            ["reference"] = report.Reference?.Strip is { } strip ? Strip(strip) : null,
            ["mean"] = report.Mean is { } mean ? Mean(mean, unit) : null,
        };
        if (own is null)
            board["class"] = Listed(room);
        return board;
    }

    /// <summary>A try of the student's own.</summary>
    public static JsonObject Try(ClassBench classes, ClassTry sent, LengthUnit unit)
    {
        JsonObject view = new() { ["id"] = sent.Id, ["at"] = sent.At.ToString("O"), ["saidPlace"] = sent.SaidPlace };
        if (classes.Photo(sent) is not { } photo)
            return view;
        PhotoView seen = PhotoView.Of(photo, unit);
        (view["stage"], view["doing"], view["status"], view["says"], view["answer"]) = (seen.Stage, seen.Doing, seen.Status, seen.Headline?.Status, seen.Headline?.Answer);
        if (seen.Check is { } check)
            view["check"] = new JsonObject { ["verdict"] = check.Verdict, ["reach"] = check.Reach, ["toDo"] = new JsonArray([.. check.ToDo.Select(l => (JsonNode?)(l.Do.Length > 0 ? l.Do : l.Seen))]) };
        if (classes.Kept(photo) is not { } kept)
            return view;
        string Said(string sentence) => PageWords.Of(sentence, unit);
        view["why"] = kept.Rod.Why is { } why ? Said(why) : null;
        view["good"] = new JsonArray([.. kept.Advice.Good.Select(g => (JsonNode?)Said(g))]);
        view["moves"] = new JsonArray([.. kept.Advice.Moves.Select(m => (JsonNode?)Said(m))]);
        view["strip"] = kept.Rod.Strip is { } strip ? Strip(strip) : null;
        return view;
    }

    private static JsonObject Rod(ClassBench classes, ClassRod rod, IReadOnlyList<ClassStudent> students, IReadOnlyList<ClassTry> tries, LengthUnit unit, ClassStudent? own)
    {
        IReadOnlyList<string> figures = BoardColumns.Of(rod, unit);
        ClassStudent student = students.First(s => s.Name == rod.Photo.Student);
        JsonObject view = new()
        {
            ["name"] = rod.Name, ["standing"] = rod.StandingText, ["why"] = rod.Why is { } why ? PageWords.Of(why, unit) : null, ["bow"] = figures[0], ["best"] = figures[1], ["gap"] = figures[2],
            ["clear"] = figures[3], ["guides"] = figures[4], ["keeps"] = rod.KeepsTarget, ["targetMm"] = rod.TargetMm is { } target ? Math.Round(target, 4) : null, ["strip"] = rod.Strip is { } strip ? Strip(strip) : null,
        };
        if (own is not null)
        {
            view["own"] = student.Id == own.Id;
            return view;
        }

        ClassTry[] sent = [.. tries.Where(t => t.StudentId == student.Id)];
        view["student"] = student.Id;
        view["tries"] = new JsonArray([.. sent.Select(t => (JsonNode?)new JsonObject { ["photo"] = t.PhotoId, ["at"] = t.At.ToString("O") })]);
        if (classes.TryThatCounts(sent) is { } standing && classes.Photo(standing) is { } photo)
        {
            PhotoView seen = PhotoView.Of(photo, unit);
            (view["photo"], view["key"], view["stage"]) = (seen.Id, seen.Status == "refused" ? null : seen.Key, seen.Stage);
        }

        return view;
    }

    private static JsonObject Strip(RodStrip strip) => new()
    {
        ["lengthMm"] = Math.Round(strip.LengthMm, 1),
        ["worst"] = strip.WorstPair,
        ["rings"] = new JsonArray([.. strip.Rings.Select(r => (JsonNode?)new JsonArray(Math.Round(r.StationMm, 1), Math.Round(r.HeightMm, 1)))]),
        ["pairs"] = new JsonArray([.. strip.Pairs.Select(p => (JsonNode?)new JsonObject
        {
            ["bowMm"] = Math.Round(p.BowMm, 2), ["running"] = p.IsRunning, ["doubt"] = p.InDoubt,
            ["line"] = new JsonArray([.. p.Line.SelectMany(v => new[] { v.X, v.Y }).Select(v => (JsonNode?)Math.Round(v, 1))]),
        })]),
    };

    private static JsonObject Mean(MeanLayout mean, LengthUnit unit) => new()
    {
        ["guides"] = mean.Guides, ["rods"] = mean.Rods,
        ["stations"] = new JsonArray([.. mean.StationsMm.Select((s, i) => (JsonNode?)new JsonObject
        {
            ["mm"] = Math.Round(s, 1), ["at"] = UnitsInSentences.Bare(s, unit), ["spread"] = mean.SpreadsMm[i] is { } spread ? UnitsInSentences.Bare(spread, unit) : null,
        })]),
    };
}
