using DeflectScan.Photos;
using DeflectScan.Scenes;

namespace DeflectScan.Tests.Photos;

public class LinkedPhotoTests
{
    /// <summary>A link's own size is that of the path in it (symlink(7)): with it the photo seemed cut.</summary>
    [Fact]
    public void APhotoThroughASymbolicLinkIsTheSamePhoto()
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("deflectscan-test-");
        try
        {
            string photo = Repository.Photo("one-card");
            string link = Path.Combine(folder.FullName, "link.jpg");
            string linkToLink = Path.Combine(folder.FullName, "again.jpg");
            File.CreateSymbolicLink(link, photo);
            File.CreateSymbolicLink(linkToLink, link);
            using UprightPhoto direct = PhotoOpener.Open(photo, PhotoLimits.Default).Value!;
            using UprightPhoto linked = PhotoOpener.Open(linkToLink, PhotoLimits.Default).Value!;
            Assert.Equal(direct.Info.Sha256, linked.Info.Sha256);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
