using System.Text.Json.Serialization;

namespace DeflectScan.Web.Pictures;

/// <summary>The page's map as JSON, its code made when the program is built.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(PlaneGrid))]
internal sealed partial class GridJson : JsonSerializerContext;
