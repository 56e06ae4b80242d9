using System.Text.Json;
using System.Text.Json.Serialization;

namespace KitOrders.Operations;

/// <summary>How answers look as JSON: camelCase names, states as words, nothing that is not known left out silently.</summary>
public static class Json
{
    public static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        Converters = { new WordConverter() },
    };
}
