using System.Text.Json.Serialization;

namespace DeflectScan.Web.Storing;

/// <summary>What is kept beside a photo as JSON, its code made when the program is built.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(StoredPhoto))]
internal sealed partial class StoredJson : JsonSerializerContext;
