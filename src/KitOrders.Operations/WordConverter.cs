using System.Text.Json;
using System.Text.Json.Serialization;
using KitOrders.Rules;

namespace KitOrders.Operations;

/// <summary>Writes and reads plain states as the words of the trade, in any case.</summary>
public sealed class WordConverter : JsonConverterFactory
{
    public override bool CanConvert(Type typeToConvert) => typeToConvert.IsEnum;

    public override JsonConverter CreateConverter(Type typeToConvert, JsonSerializerOptions options) =>
        (JsonConverter)Activator.CreateInstance(typeof(Of<>).MakeGenericType(typeToConvert))!;

    sealed class Of<T> : JsonConverter<T> where T : struct, Enum
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            reader.TokenType == JsonTokenType.String && Word.TryRead<T>(reader.GetString(), out var value)
                ? value
                : throw new JsonException($"must be one of {string.Join(", ", Word.All<T>())}");

        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) => writer.WriteStringValue(Word.Of(value));
    }
}
