using DeflectScan.Pictures;

// Pictures for looking at and for docs/:
//   truth OUT [PHOTOS]     every photo's overlay and unrolled strip from its exact truth
//   measured OUT [PHOTOS]  the same from what the program measures
//   mirrored OUT NAME      the same of one test photo in a mirror: a rod that points left
//   sheets OUT NAME        layout sheet and marking tape of one test photo's rod
//   time NAME              the two pictures of one test photo: first call and best of ten, wall and processor
//   docs                   writes the figures of docs/
//   page OUT               every view of the page, desk and phone, light and dark, and the page's figures of docs/; needs chromium
//   class OUT              the views of a class, projector and phone, light and dark, and the figures of docs/class.md; needs chromium
return args switch
{
    ["truth", var output, ..] => PhotoPictures.FromTruth(output, args.ElementAtOrDefault(2)),
    ["measured", var output, ..] => PhotoPictures.Measured(output, args.ElementAtOrDefault(2)),
    ["mirrored", var output, var name] => PhotoPictures.Mirrored(output, name),
    ["sheets", var output, var name] => SheetPictures.Write(output, name),
    ["time", var name] => Timing.Run(name),
    ["docs"] => DocFigures.Write(),
    ["page", var output] => await PageFigures.Write(output),
    ["class", var output] => await ClassFigures.Write(output),
    _ => Usage(),
};

static int Usage()
{
    Console.Error.WriteLine("Say truth OUT [PHOTOS], measured OUT [PHOTOS], mirrored OUT NAME, sheets OUT NAME, time NAME, docs, page OUT, or class OUT.");
    return 2;
}
