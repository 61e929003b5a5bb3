using System.Text.Json.Nodes;
using System.Text.Json.Serialization;

namespace DeflectScan.Web.Teaching;

/// <summary>A node's code, made when the program is built.</summary>
[JsonSerializable(typeof(JsonObject))]
internal sealed partial class JsonNodes : JsonSerializerContext;
