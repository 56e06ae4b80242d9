using System.Collections;
using System.Globalization;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Storage;
using Npgsql;

namespace KitOrders.Operations;

/// <summary>
/// Adds or updates many rows of one table in one statement, by a unique key of the table; rows that stand as they are stay
/// untouched. For files of a hundred thousand rows; what the table makes itself, such as ids, is not read back.
/// </summary>
internal static class WriteMany
{
    /// <param name="key">Names of the properties that make up the unique key.</param>
    /// <param name="instead">Values that stand in for a property's own, such as the id of a parent that was just written.</param>
    public static async Task ByKey<T>(KitOrdersDb db, IReadOnlyCollection<T> things, string[] key, CancellationToken ct,
        params (string Property, Func<T, object?> Value)[] instead) where T : class
    {
        if (things.Count == 0)
            return;
        var type = db.Model.FindEntityType(typeof(T))!;
        var table = type.GetTableName()!;
        var properties = type.GetProperties().Where(p => p.ValueGenerated == ValueGenerated.Never || key.Contains(p.Name)).ToList();
        var columns = properties.ConvertAll(Column);
        var keys = key.Select(k => Column(type.FindProperty(k)!)).ToList();
        var others = columns.Except(keys).ToList();
        var sql = $"insert into {table} ({string.Join(", ", columns)}) "
            + $"select {string.Join(", ", properties.Select((p, i) => IsList(p) ? $"c{i}::{p.GetColumnType()}" : $"c{i}"))} "
            + $"from unnest({string.Join(", ", columns.Select((_, i) => $"@p{i}"))}) rows({string.Join(", ", columns.Select((_, i) => $"c{i}"))}) on conflict ({string.Join(", ", keys)}) "
            + (others.Count == 0 ? "do nothing"
                : $"do update set {string.Join(", ", others.Select(c => $"{c} = excluded.{c}"))} where ({Of(table, others)}) is distinct from ({Of("excluded", others)})");
        var values = properties.Select((p, i) => Values($"p{i}", p, things, Array.Find(instead, v => v.Property == p.Name).Value));
        await db.Database.ExecuteSqlRawAsync(sql, values, ct);
    }

    static string Of(string table, IEnumerable<string> columns) => string.Join(", ", columns.Select(c => $"{table}.{c}"));

    static string Column(IProperty property) => $"\"{property.GetColumnName()}\"";

    static bool IsList(IProperty property) => property.IsPrimitiveCollection;

    static NpgsqlParameter Values<T>(string name, IProperty property, IReadOnlyCollection<T> things, Func<T, object?>? instead)
    {
        var mapping = (RelationalTypeMapping)property.GetTypeMapping();
        var read = property.GetGetter();
        object? ValueOf(T thing) => instead is null ? read.GetClrValue(thing!) : instead(thing);
        if (IsList(property))
            return new NpgsqlParameter(name, things.Select(t => Literal(ValueOf(t))).ToArray());
        var type = mapping.Converter?.ProviderClrType ?? property.ClrType;
        var kept = Nullable.GetUnderlyingType(type) ?? type;
        var array = Array.CreateInstance(kept.IsValueType ? typeof(Nullable<>).MakeGenericType(kept) : kept, things.Count);
        var i = 0;
        foreach (var thing in things)
        {
            var value = ValueOf(thing);
            array.SetValue(value is null || mapping.Converter is null ? value : mapping.Converter.ConvertToProvider(value), i++);
        }
        return new NpgsqlParameter(name, array) { DataTypeName = mapping.StoreTypeNameBase + "[]" };
    }

    /// <summary>A list as PostgreSQL writes it, since lists of different lengths do not make an array.</summary>
    static string? Literal(object? list) => list is not IEnumerable items ? null
        : $"{{{string.Join(',', items.Cast<object>().Select(i => $"\"{Convert.ToString(i, CultureInfo.InvariantCulture)!.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\""))}}}";
}
