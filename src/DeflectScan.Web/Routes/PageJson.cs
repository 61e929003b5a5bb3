using System.Text.Json.Serialization;
using DeflectScan.Web.Measuring;

namespace DeflectScan.Web.Routes;

/// <summary>What routes read and answer as JSON, its code made when the program is built.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(PhotoView))]
[JsonSerializable(typeof(List<PhotoView>))]
[JsonSerializable(typeof(Problem))]
[JsonSerializable(typeof(About))]
[JsonSerializable(typeof(EnterRequest))]
[JsonSerializable(typeof(InvitationView))]
[JsonSerializable(typeof(AcceptRequest))]
[JsonSerializable(typeof(AcceptedView))]
[JsonSerializable(typeof(WatchView))]
internal sealed partial class PageJson : JsonSerializerContext;
