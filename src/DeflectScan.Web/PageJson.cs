using System.Text.Json.Serialization;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Pictures;
using DeflectScan.Web.Routes;
using DeflectScan.Web.Storing;
using DeflectScan.Web.Measuring;

namespace DeflectScan.Web;

/// <summary>Everything that this room reads or writes as JSON, its code made when the program is built.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(StoredPhoto))]
[JsonSerializable(typeof(LogLine))]
[JsonSerializable(typeof(PlaneGrid))]
[JsonSerializable(typeof(PhotoView))]
[JsonSerializable(typeof(List<PhotoView>))]
[JsonSerializable(typeof(Correction))]
[JsonSerializable(typeof(Problem))]
[JsonSerializable(typeof(About))]
[JsonSerializable(typeof(EnterRequest))]
[JsonSerializable(typeof(InvitationView))]
[JsonSerializable(typeof(AcceptRequest))]
[JsonSerializable(typeof(AcceptedView))]
[JsonSerializable(typeof(WatchView))]
internal sealed partial class PageJson : JsonSerializerContext;
