using DeflectScan.Calibration;
using DeflectScan.Cli.Running;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Tracing;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace DeflectScan.Cli.Display;

/// <summary>A measurement as a builder reads it at the bench.</summary>
internal sealed class MeasurementDisplay(Terminal terminal, Figures figures, bool budget = false)
{
    private readonly IAnsiConsole _console = terminal.Tables();

    /// <param name="m">What was measured.</param>
    /// <param name="photoName">What the photo is called on the command line.</param>
    public void Show(Measurement m, string photoName)
    {
        Headline(m, photoName);
        if (m.Blank is not null)
            Cautions();
        Scale(m);
        if (m.Guides.Count > 0)
        {
            Heading("Guides", "station: along the blank from the tip-top");
            _console.Write(MeasurementTables.Guides(m, figures, Border));
        }

        if (m.Intervals.Count > 0)
        {
            Heading("Pairs", $"in {figures.UnitWord}; gap: line to blank's surface; bow: blank off its own chord");
            _console.Write(MeasurementTables.Pairs(m, figures, Border));
            Largest(m);
        }

        if (m.Suggestion is { } suggestion)
            Suggestion(m, suggestion);
        if (budget && m.Budget is { } causes)
            Budget(causes);
        else if (m.Budget?.Lines.Any(l => l.Do is not null) == true)
            Line("What makes the figures uncertain, and what would help: --budget.");
        Findings(NumberedFindings.Of(m.Findings));
    }

    private TableBorder Border => terminal.OutIsTerminal ? TableBorder.Simple : TableBorder.None;

    private void Headline(Measurement m, string photoName)
    {
        (string word, Color colour) = m.Status switch
        {
            MeasurementStatus.Ok => ("ok", Color.Green),
            MeasurementStatus.NeedsReview => ("needs review", Color.Yellow),
            _ => ("refused", Color.Red),
        };
        _console.Write(new Text(SafeText.Of(photoName) + ": ", new Style(decoration: Decoration.Bold)));
        _console.Write(new Text(word + "\n", new Style(colour, decoration: Decoration.Bold)));
    }

    private void Scale(Measurement m)
    {
        if (m.Calibration is { } c)
        {
            string cards = string.Join(", ", c.Cards.Select(card => card.Letter));
            Line($"Scale: {(c.Cards.Count == 1 ? "card" : "cards")} {cards}; lens {SafeText.Of(c.Lens)}; camera {c.DistanceMm / 1000:0.00} m away, "
                + $"tilted {c.TiltDeg:0.0}°; {c.MmPerPx:0.000} mm a pixel; scale ±{UnitsText.RoundedUp(c.ScaleUncertaintyPercent, 0.01):0.00} %");
        }

        if (m.Blank is { } b)
        {
            string side = m.Side switch
            {
                BendSide.Inside => "; guides on the inside of the bend (spinning)",
                BendSide.Outside => "; guides on the outside of the bend (casting)",
                _ => "",
            };
            Line($"Blank: {figures.Full(b.TracedLengthMm)} traced, turned through {b.TipTurnDeg:0.0}°{side}");
        }

        if (m.Pull is { DirectionDeg: not null } pull)
            Line($"Cord: {(pull.Source == Source.Traced ? "seen" : "direction as told")}{(pull.LoadN is { } load ? $", loaded with {ForceText.All(load)}" : "")}; deflectscan bend says how the blank bends at other loads");
    }

    private void Largest(Measurement m)
    {
        if (m.AllInDoubt())
        {
            Strong(m.SideInDoubt()
                ? "Which pair follows worst is not said: the side of the bend that the guides stand on is in doubt; look at what was noticed first."
                : "Which pair follows worst is not said: which guides there are is in doubt; look at what was noticed first.");
            return;
        }

        IReadOnlyList<IntervalReport> sure = m.SurePairs();
        bool some = sure.Count < m.Intervals.Count;
        if (some)
            Line($"In doubt, and left out here: {string.Join(", ", m.Intervals.Except(sure).Select(p => MeasurementTables.Pair(m, p)))}; look at what was noticed.");
        if (m.SureWorst() is { } worst)
            Strong($"Follows worst of the running pairs{(some ? " not in doubt" : "")}: {MeasurementTables.Pair(m, worst)}, {MeasurementTables.WorstBy(m, worst, figures)}.");
        if (sure.MaxBy(p => p.GapMm) is { } gap)
            Line($"Largest gap: {MeasurementTables.Pair(m, gap)}, {figures.Sentence(gap.Gap)}.");
        if (sure.MaxBy(p => p.BowMm) is { } bow)
            Line($"Largest bow: {MeasurementTables.Pair(m, bow)}, {figures.Sentence(bow.Bow)}.");
    }

    private void Suggestion(Measurement m, SuggestionReport s)
    {
        Heading("Suggestion", m.GuidesInDoubt ? "if the guides are as read" : "");
        Line(SafeText.Of(figures.InUnit(s.Why)));
        if (s.AddAtMm is null && s.Moves.Count == 0)
            return;
        if (s.AddAtMm is { } at)
            Strong($"  Add a guide {figures.Full(at)} from the tip-top.");
        foreach (MoveReport move in s.Moves.Where(v => v.CanBeMade))
            Line($"  Move guide {MeasurementTables.Name(m, move.Guide)} from {figures.Full(move.FromMm)} to {figures.Full(move.ToMm)}.");
        Line($"  Largest bow of the running pairs {figures.Bare(s.BowBeforeMm)} -> {figures.Bare(s.BowAfterMm)} {figures.UnitName}.");
    }

    /// <summary>The causes that matter: what each makes of the ± figures.</summary>
    private void Budget(BudgetReport budget)
    {
        double Whole(Func<BudgetLine, double> part) => Math.Sqrt(budget.Lines.Sum(l => part(l) * part(l)));
        (double gap, double bow, double station) = (Whole(l => l.GapMm), Whole(l => l.BowMm), Whole(l => l.StationMm));
        BudgetLine[] large = [.. budget.Lines.Where(l => l.Do is not null)];
        if (large.Length == 0)
            return;
        Heading("What makes them uncertain", "shares of largest gap, largest bow, station nearest the reel");
        foreach (BudgetLine line in large)
            Line($"  {Cause(line.Cause)}: {Share(line.GapMm, gap)}, {Share(line.BowMm, bow)}, {Share(line.StationMm, station)}. {CommandWords.Of(line.Do!)}");
        static string Share(double part, double whole) => $"{(whole > 0 ? 100 * part * part / (whole * whole) : 0):0} %";
    }

    private static string Cause(UncertaintyCause cause) => cause switch
    {
        UncertaintyCause.Scale => "scale",
        UncertaintyCause.CardPrint => "print of the cards",
        UncertaintyCause.Tilt => "tilt of the camera",
        UncertaintyCause.Lens => "lens",
        UncertaintyCause.CardOff => "cards off the plane",
        UncertaintyCause.CardFlat => "flatness of the cards",
        UncertaintyCause.Blank => "tracing of the blank",
        UncertaintyCause.Line => "tracing of the line",
        UncertaintyCause.TipEnd => "place of the tip's end",
        _ => "place of the line on the rings",
    };

    private void Findings(IReadOnlyList<(Finding Finding, string? Mark)> findings)
    {
        if (findings.Count == 0)
            return;
        Heading("What was noticed", "");
        foreach ((Finding f, string? mark) in findings)
        {
            (string word, Color colour) = f.Severity switch
            {
                Severity.Note => ("note", Color.Default),
                Severity.Review => ("review", Color.Yellow),
                _ => ("refused", Color.Red),
            };
            _console.Write(new Paragraph($"  {(mark is null ? "" : mark + " ")}{word} ({f.CodeText}): ", new Style(colour)).Append(SafeText.Of(figures.InUnit(f.Message)) + "\n"));
        }
    }

    private void Cautions() => Line(
        "A loaded rod can break or let go: wear eye protection, stay out of the cord's line, load it no further than its maker's rating and the tip no further "
        + "than 90 degrees to the butt, clamp it soundly. Local rules and trained practice come first.");

    private void Heading(string title, string explanation) => _console.Write(Titled.Of(title, explanation));

    private void Line(string text) => _console.Write(new Text(text + "\n"));

    private void Strong(string text) => _console.Write(new Text(text + "\n", new Style(decoration: Decoration.Bold)));
}
