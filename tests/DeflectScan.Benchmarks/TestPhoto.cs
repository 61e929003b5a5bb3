using DeflectScan.Calibration;
using DeflectScan.Calibration.Cards;
using DeflectScan.Photos;
using DeflectScan.Scenes;

namespace DeflectScan.Benchmarks;

/// <summary>The photo that all rooms are timed on, opened, and its plane.</summary>
internal static class TestPhoto
{
    public const string Name = "clean-spinning";

    public static UprightPhoto Open() => PhotoOpener.Open(Repository.Photo(Name), new PhotoLimits()).OrDamaged();

    public static PlaneSolution Plane(UprightPhoto photo) => PlaneSolver.Solve(CardFinder.Find(photo), photo.Info).OrDamaged();
}
