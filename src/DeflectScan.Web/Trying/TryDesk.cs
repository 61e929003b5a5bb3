using DeflectScan.Bending;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Layout.Spacing;
using DeflectScan.Mechanics.Stiffness;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Web.Trying;

/// <summary>The layout desk on one measurement document: what the commands whatif, spacing, bend, sheet and tape say of it, by the same calls.</summary>
internal sealed class TryDesk
{
    private readonly MeasuredLayout _rod;
    private readonly Lazy<Outcome<StiffnessEstimate>> _blank;

    private TryDesk(MeasuredLayout rod)
    {
        _rod = rod;
        _blank = new Lazy<Outcome<StiffnessEstimate>>(() => new BlankSource(rod.Measurement).Estimate());
    }

    /// <summary>The desk, or why there is none.</summary>
    public static Outcome<TryDesk> Of(Measurement m) => MeasuredLayout.Of(m).Map(rod => new TryDesk(rod));

    public string PhotoName => _rod.Measurement.Photo?.FileName ?? "Measured layout";

    public Outcome<WhatIfReport> WhatIf(IReadOnlyList<GuideChange> changes) => WhatIfReport.Of(_rod, changes, null);

    public IReadOnlyList<BenchMove> Moves(WhatIfReport report) => BenchMoves.Of(_rod, report.After);

    public Outcome<SpacingReport> Spacing(SpacingRequest request) => SpacingReport.Of(_rod, request, null);

    /// <summary>The changes that lead to the layout of the best spacing; null where none was asked for.</summary>
    public IReadOnlyList<GuideChange>? ChangesOf(SpacingReport report) => report.Layout is null ? null : SpacingChanges.Of(_rod, report);

    /// <summary>The layout at other loads: the usual ones where none are asked for.</summary>
    public Outcome<BendReport> Bend(WhatIfReport report, bool isAsMeasured, BendRequest asked) =>
        BendStudy.Of(isAsMeasured ? _rod : TriedRod.Of(_rod, report.After), _blank.Value, asked);

    /// <summary>The layout as it is kept and printed; by way of its document, as the command line comes to it.</summary>
    public SheetLayout Sheet(WhatIfReport report, string title) => LayoutJson.Read(LayoutJson.Write(DeskSheet.Of(_rod, report.After, title))).OrDamaged();

    /// <summary>The layout best over several loads, as changes of the measured one.</summary>
    public IReadOnlyList<GuideChange> ChangesOf(RangeLayout best, WhatIfReport tried) =>
        [
            .. tried.Before.Guides.Where(g => !g.IsTip && tried.After.Guides.All(a => a.MeasuredAs != g.Guide)).Select(g => new TakeOff(g.Guide)),
            .. tried.After.Guides.SkipLast(1).Select((g, i) => Change(g, Math.Round(best.StationsMm[i], 4), tried)).OfType<GuideChange>(),
        ];

    private static GuideChange? Change(JudgedGuide guide, double to, WhatIfReport tried) => guide.MeasuredAs is not { } was ? new AddAt(to)
        : Math.Abs(tried.Before.Guides[was - 1].StationMm - to) < 1e-4 ? null
        : new MoveTo(was, to);
}
