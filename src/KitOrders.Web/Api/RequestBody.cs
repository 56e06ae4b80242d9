using System.Collections;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.RegularExpressions;
using KitOrders.Operations;
using KitOrders.Rules;

namespace KitOrders.Web.Api;

/// <summary>
/// Reads the body of a write as strictly as the contract says it: what is named there without a question mark must be there,
/// numbers are numbers, no list holds a null, and text can be kept as it came. Names it does not know are passed over.
/// </summary>
static partial class RequestBody
{
    static readonly JsonSerializerOptions options = new(Json.Options)
    {
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        NumberHandling = JsonNumberHandling.Strict,
        Converters = { new Text() },
    };

    static readonly UTF8Encoding strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>No body is an empty object. Refusals: <c>body-unreadable</c>, <c>fields-missing</c> and, of one field, its own, such as <c>pump-missing</c>.</summary>
    public static Outcome<T> Read<T>(ReadOnlySpan<byte> bytes)
    {
        try
        {
            if (bytes.StartsWith(Encoding.UTF8.Preamble))
                bytes = bytes[Encoding.UTF8.Preamble.Length..];
            var text = strict.GetString(bytes);
            if (JsonSerializer.Deserialize<T>(string.IsNullOrWhiteSpace(text) ? "{}" : text, options) is not { } body)
                return Refusal.Invalid("body-unreadable", "The body is null. Send an object.");
            return ListWithNull(body) is { } list ? Refusal.Field(list, "body-unreadable", $"'{list}' holds a null. Leave it out.") : body;
        }
        catch (JsonException e)
        {
            return Refused(e);
        }
        catch (DecoderFallbackException)
        {
            return Refusal.Invalid("body-unreadable", "The body is not UTF-8 text. Nothing was done.");
        }
        catch (Exception e) when (e is NotSupportedException or OverflowException or FormatException)
        {
            return Refusal.Invalid("body-unreadable", "The body cannot be read: a number is out of range.");
        }
    }

    static string? ListWithNull(object body) => body.GetType().GetProperties()
        .Where(p => p.GetIndexParameters().Length == 0 && p.GetValue(body) is IEnumerable list and not string && list.Cast<object?>().Any(item => item is null))
        .Select(p => JsonNamingPolicy.CamelCase.ConvertName(p.Name)).FirstOrDefault();

    static Refusal Refused(JsonException e)
    {
        var field = e.Path is null ? "" : e.Path.TrimStart('$').TrimStart('.').Split('.', '[')[0];
        if (Missing().Match(e.Message) is { Success: true } missing)
        {
            var names = missing.Groups["name"].Captures.Select(c => c.Value).ToList();
            var sentence = $"{string.Join(", ", names)} must be given{(field.Length == 0 ? "" : $" at {e.Path}")}.";
            return Refusal.Invalid(names.Count == 1 ? $"{Capital().Replace(names[0], "-$0").ToLowerInvariant()}-missing" : "fields-missing", sentence)
                with { Errors = (field.Length == 0 ? names : [field]).ToDictionary(n => n, n => new[] { field.Length == 0 ? $"{n} must be given." : sentence }) };
        }
        var said = OwnWords.Any(w => e.Message.Contains(w, StringComparison.Ordinal)) ? e.Message.Split(" Path:")[0] + "." : "it is not JSON of the kind asked for.";
        return field.Length == 0
            ? Refusal.Invalid("body-unreadable", $"The body cannot be read: {said}")
            : Refusal.Field(field, "body-unreadable", $"'{field}' cannot be read at {e.Path}: {said}");
    }

    const string Unkept = "text holds a character (NUL) that cannot be kept";
    static readonly string[] OwnWords = ["must be one of", Unkept];

    [GeneratedRegex("missing required properties including: ('(?<name>[^']+)'[, ;]*)+")]
    private static partial Regex Missing();

    [GeneratedRegex("(?<!^)[A-Z]")]
    private static partial Regex Capital();

    sealed class Text : JsonConverter<string>
    {
        public override string? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            if (reader.TokenType != JsonTokenType.String)
                throw new JsonException();
            var text = reader.GetString();
            return text is not null && text.Contains('\0', StringComparison.Ordinal) ? throw new JsonException(Unkept) : text;
        }

        public override void Write(Utf8JsonWriter writer, string value, JsonSerializerOptions options) => writer.WriteStringValue(value);
    }
}
