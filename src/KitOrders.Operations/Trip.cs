using System.Data.Common;
using System.Text;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Storage;
using Npgsql;
using NpgsqlTypes;

namespace KitOrders.Operations;

/// <summary>
/// Statements that go to the database together: one message there, one answer back, whatever their number. Each sees what
/// those before it have done and, being a statement of its own, what others have committed meanwhile: a lock and the reading
/// that needs it can travel together. It goes the way of every other command of the context, so that whatever listens to or
/// interferes with those sees these too. Statements hold no braces and no semicolons.
/// </summary>
internal sealed class Trip(KitOrdersDb db)
{
    readonly StringBuilder text = new();
    readonly Dictionary<string, NpgsqlParameter> parameters = [];
    readonly List<IAnswer> answers = [];

    public bool IsEmpty => text.Length == 0;

    /// <summary>Gives a value to a name that the statements of this trip use; a name has one value.</summary>
    public Trip With<T>(string name, T value)
    {
        if (!parameters.TryAdd(name, Parameter(name, value)) && !Equals(parameters[name].Value, (object?)value ?? DBNull.Value))
            throw new InvalidOperationException($"@{name} already has another value on this trip.");
        return this;
    }

    /// <summary>Adds a statement that answers rows.</summary>
    public Answer<T> Ask<T>(string statement, Func<DbDataReader, T> row)
    {
        var answer = new Answer<T>(row);
        answers.Add(answer);
        text.Append(statement).Append(";\n");
        return answer;
    }

    /// <summary>Adds a statement that answers nothing.</summary>
    public void Tell(string statement) => text.Append(statement).Append(";\n");

    public async Task Send(CancellationToken ct)
    {
        if (IsEmpty)
            return;
        var command = db.GetService<IRawSqlCommandBuilder>().Build(text.ToString(), parameters.Values, db.Model);
        await using var reader = await command.RelationalCommand.ExecuteReaderAsync(new RelationalCommandParameterObject(
            db.GetService<IRelationalConnection>(), command.ParameterValues, null, db,
            db.GetService<IRelationalCommandDiagnosticsLogger>(), CommandSource.FromSqlQuery), ct);
        var results = reader.DbDataReader;
        for (var n = 0; n < answers.Count; n++)
        {
            if (n > 0 && !await results.NextResultAsync(ct))
                throw new InvalidOperationException("A statement that was asked answered no rows.");
            await answers[n].Read(results, ct);
        }
        // A later statement that fails says so only when it is reached.
        while (await results.NextResultAsync(ct))
            throw new InvalidOperationException("A statement that was told answered rows.");
    }

    static NpgsqlParameter Parameter<T>(string name, T value)
    {
        var parameter = new NpgsqlParameter { ParameterName = name, Value = (object?)value ?? DBNull.Value };
        if (value is null)
            parameter.NpgsqlDbType = Kind(Nullable.GetUnderlyingType(typeof(T)) ?? typeof(T));
        return parameter;
    }

    static NpgsqlDbType Kind(Type type) =>
        type == typeof(string) ? NpgsqlDbType.Text
        : type == typeof(int) ? NpgsqlDbType.Integer
        : type == typeof(long) ? NpgsqlDbType.Bigint
        : type == typeof(decimal) ? NpgsqlDbType.Numeric
        : type == typeof(DateOnly) ? NpgsqlDbType.Date
        : type == typeof(DateTimeOffset) ? NpgsqlDbType.TimestampTz
        : throw new ArgumentOutOfRangeException(nameof(type), type, "No column of this kind is written on a trip.");

    interface IAnswer
    {
        Task Read(DbDataReader reader, CancellationToken ct);
    }

    /// <summary>The rows of one statement, there once the trip has been made.</summary>
    internal sealed class Answer<T>(Func<DbDataReader, T> row) : IAnswer
    {
        List<T>? rows;

        public IReadOnlyList<T> Rows => rows ?? throw new InvalidOperationException("The trip has not been made yet.");

        async Task IAnswer.Read(DbDataReader reader, CancellationToken ct)
        {
            rows = [];
            while (await reader.ReadAsync(ct))
                rows.Add(row(reader));
        }
    }
}

/// <summary>Columns that may be empty.</summary>
internal static class Columns
{
    public static string? Text(this DbDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    public static T? Maybe<T>(this DbDataReader row, int column) where T : struct => row.IsDBNull(column) ? null : row.GetFieldValue<T>(column);

    public static T Word<T>(this DbDataReader row, int column) where T : struct, Enum =>
        Rules.Word.TryRead<T>(row.GetString(column), out var word) ? word : throw new InvalidOperationException($"'{row.GetString(column)}' is not a {typeof(T).Name}.");

    public static T? MaybeWord<T>(this DbDataReader row, int column) where T : struct, Enum => row.IsDBNull(column) ? null : row.Word<T>(column);
}
