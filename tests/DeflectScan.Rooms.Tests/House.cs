namespace DeflectScan.Rooms.Tests;

/// <summary>All rooms of the house from the ground up: a room knows some of those above it in the list, never one below it.</summary>
internal static class House
{
    public static readonly Room[] Rooms =
    [
        new("Findings", "`Findings`", "codes, severities, `Outcome<T>`: a value, or a refusal with a sentence for the user; `Parsed`: the edge of every reader"),
        new("Numerics", "`Numerics`", "order statistics, the normal law, factors and least squares, over MathNet where that serves; knows no rod"),
        new("Geometry", "`Geometry`", "curves by arc length, vectors, units, propagation of uncertainties"),
        new("Imaging", "`Imaging`", "samples of a picture: rows, luma and colours at a point, the cubic kernel", "Geometry"),
        new("Photos", "`Photos`", "opening a file that may come from anyone", "Findings"),
        new("Calibration", "`Calibration`", "`Cards`: scale cards found and measured; the rod plane and its covariance; `Lens`: profiles",
            "Findings", "Numerics", "Geometry", "Imaging", "Photos"),
        new("Tracing", "`Tracing`", "`Blank`, `Cord`: bars on the photo; `Reading`: trained networks on strip and photo, the decoder; `Rings`: which rings are in use; `Line`: the line through them",
            "Findings", "Numerics", "Geometry", "Imaging", "Photos", "Calibration"),
        new("Layout", "`Layout`", "gaps, bows, `Spacing`, what is worth `Suggesting`; millimetres alone, no OpenCV", "Findings", "Geometry"),
        new("Mechanics", "`Mechanics`", "bending under load; `Estimation`: the fit; `Stiffness`: what is known of a blank; no OpenCV", "Findings", "Numerics", "Geometry"),
        new("", "root", "what goes in and what comes out: `MeasureOptions` with `Marks`, `Measurement`", "Findings", "Geometry", "Photos", "Calibration", "Tracing", "Layout"),
        new("Proving", "`Proving`", "readings by hand held against a measurement: E_n, chi-square, what would explain a contradiction; from a document alone, no OpenCV", "Findings", "Numerics", "Geometry", ""),
        new("Desk", "`Desk`", "other layouts on a measured bend: what-if, best spacing, loads, with uncertainties; from a document alone, no OpenCV", "Findings", "Numerics", "Geometry", "Tracing", "Layout", ""),
        new("Measuring", "`Measuring`", "`MeasurePipeline`, the list of stages; checks against the tape; `Figures`: gaps and bows with their uncertainties; `Prints`: how sharp the photo is, from the cards",
            "Findings", "Numerics", "Geometry", "Imaging", "Photos", "Calibration", "Tracing", "Layout", "", "Desk"),
        new("Checking", "`Checking`", "whether a photo will do, in a second", "Findings", "Numerics", "Geometry", "Imaging", "Photos", "Calibration", "Tracing", "Measuring"),
        new("Repeating", "`Repeating`", "several photos of one set-up put together", "Numerics", "Geometry", "Photos", ""),
        new("Bending", "`Bending`", "from documents to the mechanics and back: stiffness, bends at other loads, layouts judged on each",
            "Findings", "Geometry", "Tracing", "Layout", "Mechanics", "", "Desk", "Measuring"),
        new("Teaching", "`Teaching`", "a class put side by side, from documents: strips, what stands out, what a student is told; whose photo is whose in a folder; no OpenCV",
            "Findings", "Geometry", "Photos", "Tracing", "Layout", "", "Desk"),
        new("Reporting", "`Reporting`", "the document (`Json`), overlay, `Unrolled` strip, `Sheets`, `Boards` of a class, tables (`Csv`), plots, `Cards` to print",
            "Findings", "Geometry", "Photos", "Calibration", "Tracing", "Layout", "Mechanics", "", "Proving", "Desk", "Checking", "Repeating", "Bending", "Teaching"),
        new("Writing", "`Writing`", "the one rule for files that are written: what may be replaced, which endings fit; the lasting settings", "Findings", "Geometry", "Photos", "", "Reporting"),
        new("Records", "`src/DeflectScan.Records`", "the archive: SQLite and photos by their hash; `Keeping`: its use cases; `Comparing`: two tests, photos from one stand",
            "Findings", "Numerics", "Geometry", "Photos", "Calibration", "Tracing", "Layout", "", "Proving", "Desk", "Measuring", "Reporting"),
        new("Web", "`src/DeflectScan.Web`", "the page: `Storing` (originals), `Measuring` (the one queue; a folder whose photos come in), `Correcting` (marks, their log), `Trying` (other layouts), `Starting` (layouts to begin with), `Teaching` (classes, who is in them), `Words`, `Pictures`, `Routes`, `Guarding`, `Serving` (all of it put together; nothing knows it); `page/` is what the browser loads: ES modules, no build step",
            "Findings", "Geometry", "Photos", "Calibration", "Tracing", "Layout", "Mechanics", "", "Proving", "Desk", "Measuring", "Checking", "Bending", "Teaching", "Reporting", "Records"),
        new("Cli", "`src/DeflectScan.Cli`", "the command line: parses, calls, shows; computes nothing",
            "Findings", "Geometry", "Photos", "Calibration", "Tracing", "Layout", "Mechanics", "", "Proving", "Desk", "Measuring", "Checking", "Repeating", "Bending", "Teaching", "Reporting", "Writing", "Records", "Web"),
    ];
}
