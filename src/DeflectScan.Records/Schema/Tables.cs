namespace DeflectScan.Records.Schema;

/// <summary>
/// The tables of facts of the present schema, in an order in which a row's references come before it. Everything else in the database is made
/// from these. Lengths in mm, times in UTC as yyyy-MM-ddTHH:mm:ss.fffZ.
/// </summary>
internal static class Tables
{
    /// <summary>A build by its id; what is known of it stands in its revisions.</summary>
    public static TableSpec Builds { get; } = new("builds", 1, [Text("id"), Text("created_at")]);

    /// <summary>What the user says about a build; the one with the latest time (then the greatest id) holds.</summary>
    public static TableSpec Revisions { get; } = new(
        "revisions",
        1,
        [
            Text("id"), Text("build_id"), Text("at"), Text("name"), Maybe("owner"), Maybe("blank"), MaybeReal("blank_length_mm"), MaybeWhole("pieces"),
            Maybe("spine_mark"), Maybe("handle"), MaybeWhole("reel_class"), Maybe("line"), Maybe("side"), Maybe("rod_use"), Maybe("remarks"),
        ]);

    /// <summary>The guides of a revision as built, from the reel to the tip-top.</summary>
    public static TableSpec Guides { get; } = new(
        "guides",
        2,
        [Text("revision_id"), Whole("position"), Maybe("frame"), MaybeReal("ring_size_mm"), Real("from_tip_mm"), MaybeReal("from_reel_mm")]);

    /// <summary>A photo by the hash of its file; all that stands here follows from the file.</summary>
    public static TableSpec Photos { get; } = new(
        "photos", 1, [Text("sha256"), Text("extension"), Whole("bytes"), Whole("width_px"), Whole("height_px")]);

    /// <summary>A lens profile by the hash of its text.</summary>
    public static TableSpec Lenses { get; } = new("lenses", 1, [Text("sha256"), Text("profile")]);

    /// <summary>A measurement: photo, lens profile, settings and program version that it can be made again from, and its main figures.</summary>
    public static TableSpec Measurements { get; } = new(
        "measurements",
        1,
        [
            Text("id"), Text("build_id"), Text("photo_sha256"), Maybe("lens_sha256"), Text("document_sha256"), Text("made_at"), Text("program_version"),
            Text("settings"), Maybe("label"), Text("status"), Maybe("side"), Real("traced_length_mm"), Real("tip_turn_deg"), Whole("guide_count"),
            MaybeReal("largest_gap_mm"), MaybeReal("largest_gap_uncertainty_mm"), MaybeReal("largest_bow_mm"), MaybeReal("largest_bow_uncertainty_mm"),
        ]);

    /// <summary>A layout that was considered for a build.</summary>
    public static TableSpec Layouts { get; } = new(
        "layouts", 1, [Text("id"), Text("build_id"), Text("at"), Text("name"), Text("basis")]);

    public static TableSpec LayoutGuides { get; } = new(
        "layout_guides", 2, [Text("layout_id"), Whole("position"), Real("from_tip_mm"), MaybeReal("from_reel_mm"), MaybeReal("ring_size_mm"), MaybeReal("height_mm")]);

    /// <summary>That a layout was chosen; the latest choice of a build holds.</summary>
    public static TableSpec Choices { get; } = new("choices", 1, [Text("id"), Text("build_id"), Text("layout_id"), Text("at")]);

    /// <summary>A note, a test cast or a remark.</summary>
    public static TableSpec Notes { get; } = new("notes", 1, [Text("id"), Text("build_id"), Text("at"), Text("kind"), Text("text")]);

    /// <summary>That a measurement was set aside as wrong, counts again, or was moved to its right build; what was said last holds. Since schema 2.</summary>
    public static TableSpec Standings { get; } = new(
        "standings", 1, [Text("id"), Text("build_id"), Text("measurement_id"), Text("at"), Text("state"), Maybe("to_build_id"), Maybe("reason")]);

    /// <summary>A measurement held against readings by hand; of several of one measurement the latest counts. Since schema 4.</summary>
    public static TableSpec Proofs { get; } = new(
        "proofs",
        1,
        [
            Text("id"), Text("build_id"), Text("measurement_id"), Text("at"), Text("camera"), Text("cards"), Text("verdict"), Maybe("cause"), Real("chi_square"),
            Real("probability"), Real("largest_en"),
        ]);

    /// <summary>The readings of a proof; without to_guide: the tip-top. Since schema 4.</summary>
    public static TableSpec ProofReadings { get; } = new(
        "proof_readings",
        2,
        [
            Text("proof_id"), Whole("position"), Text("kind"), Whole("from_guide"), MaybeWhole("to_guide"), Real("reading_mm"), Real("reading_uncertainty_mm"), Real("photo_mm"),
            Real("photo_uncertainty_mm"),
        ]);

    public static IReadOnlyList<TableSpec> All { get; } =
        [Builds, Revisions, Guides, Photos, Lenses, Measurements, Layouts, LayoutGuides, Choices, Notes, Standings, Proofs, ProofReadings];

    /// <summary>Tables that exports of earlier schemas lack.</summary>
    public static IReadOnlyList<TableSpec> Later { get; } = [Standings, Proofs, ProofReadings];

    private static Column Text(string name) => new(name, ColumnKind.Text);

    private static Column Maybe(string name) => new(name, ColumnKind.Text, Optional: true);

    private static Column Whole(string name) => new(name, ColumnKind.Whole);

    private static Column MaybeWhole(string name) => new(name, ColumnKind.Whole, Optional: true);

    private static Column Real(string name) => new(name, ColumnKind.Real);

    private static Column MaybeReal(string name) => new(name, ColumnKind.Real, Optional: true);
}
