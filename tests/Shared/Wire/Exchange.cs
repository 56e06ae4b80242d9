using System.Text;

namespace KitOrders.TestWire;

/// <summary>One message of PostgreSQL's protocol: its type and what follows the length.</summary>
sealed record Message(byte Type, byte[] Body)
{
    public const byte Query = (byte)'Q', Parse = (byte)'P', Sync = (byte)'S', Terminate = (byte)'X';
    public const byte Error = (byte)'E', Complete = (byte)'C', Ready = (byte)'Z';

    /// <summary>The statement that a query or a parse carries.</summary>
    public string? Statement => Type switch
    {
        Query => Text(0),
        Parse => Text(Array.IndexOf(Body, (byte)0) + 1),
        _ => null,
    };

    /// <summary>The code of an error, such as 40P01.</summary>
    public string? SqlState
    {
        get
        {
            for (var at = 0; Type == Error && at < Body.Length && Body[at] != 0; at = Array.IndexOf(Body, (byte)0, at) + 1)
            {
                if (Body[at] == (byte)'C')
                    return Text(at + 1);
            }
            return null;
        }
    }

    public Message With(string statement)
    {
        var start = Type == Parse ? Array.IndexOf(Body, (byte)0) + 1 : 0;
        var end = Array.IndexOf(Body, (byte)0, start);
        return this with { Body = [.. Body[..start], .. Encoding.UTF8.GetBytes(statement), .. Body[end..]] };
    }

    public static Message OfQuery(string statement) => new(Query, [.. Encoding.UTF8.GetBytes(statement), 0]);

    public static Message OfComplete(string tag) => new(Complete, [.. Encoding.UTF8.GetBytes(tag), 0]);

    public static Message OfError(string sqlState, string sentence) =>
        new(Error, [.. Encoding.UTF8.GetBytes($"SERROR\0VERROR\0C{sqlState}\0M{sentence}\0"), 0]);

    string Text(int from) => Encoding.UTF8.GetString(Body.AsSpan(from, Array.IndexOf(Body, (byte)0, from) - from));
}

/// <summary>What happens to an exchange.</summary>
enum Then
{
    Go,

    /// <summary>The connection breaks: before the server hears of it, or before the client hears of what was done.</summary>
    Cut,

    /// <summary>The client is told that it failed, whatever the server did.</summary>
    Fail,

    /// <summary>The client is told at once that it is done; the server hears of it when the client asks the next thing.</summary>
    Later,
}

/// <summary>What a client asks in one go, up to the message after which the server says that it is ready for more.</summary>
sealed class Exchange(int connection, List<Message> asked)
{
    /// <summary>A number of the connection on the wire.</summary>
    public int Connection => connection;

    public List<Message> Asked => asked;

    public IEnumerable<string> Statements => asked.Select(m => m.Statement).OfType<string>();

    /// <summary>What the server answered; known after it did.</summary>
    public List<Message> Answered { get; } = [];

    /// <summary>Statements slipped in around it, of which the client hears nothing.</summary>
    public string? Ahead { get; set; }

    public string? Behind { get; set; }

    internal bool Hidden { get; init; }

    public bool Says(string word) => Statements.Any(s => s.Contains(word, StringComparison.OrdinalIgnoreCase));

    /// <summary>Begins with the word, as BEGIN and COMMIT do.</summary>
    public bool Is(string word) => Statements.Any(s => s.StartsWith(word, StringComparison.OrdinalIgnoreCase));

    /// <summary>What the pool sends when a connection changes hands: no command of anybody.</summary>
    public bool IsReset => Statements.All(s => s.Contains("DISCARD", StringComparison.OrdinalIgnoreCase));

    /// <summary>Puts another statement in the place of one; false when nothing was changed.</summary>
    public bool Rewrite(Func<string, string> change)
    {
        var changed = false;
        for (var i = 0; i < asked.Count; i++)
        {
            if (asked[i].Statement is { } statement && change(statement) is var other && other != statement)
            {
                asked[i] = asked[i].With(other);
                changed = true;
            }
        }
        return changed;
    }
}
