using System.Text.Json.Serialization;

namespace DeflectScan.Web.Correcting;

/// <summary>Corrections as JSON, as they are sent and as the log keeps them; its code is made when the program is built.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(LogLine))]
[JsonSerializable(typeof(Correction))]
internal sealed partial class MarksJson : JsonSerializerContext;
