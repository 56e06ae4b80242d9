using System.Text;

namespace KitOrders.TestWire;

/// <summary>One message of PostgreSQL's protocol: its type and what follows the length.</summary>
sealed record Message(byte Type, byte[] Body)
{
    public const byte Query = (byte)'Q', Parse = (byte)'P', Bind = (byte)'B', Describe = (byte)'D', Execute = (byte)'E', Sync = (byte)'S', Terminate = (byte)'X';
    public const byte Error = (byte)'E', Complete = (byte)'C', Ready = (byte)'Z', Parsed = (byte)'1', Bound = (byte)'2', NoRows = (byte)'n';

    /// <summary>The statement that a query or a parse carries.</summary>
    public string? Statement => Type switch
    {
        Query => Text(0),
        Parse => Text(Array.IndexOf(Body, (byte)0) + 1),
        _ => null,
    };

    /// <summary>The name under which a parse leaves its statement with the server, or that a bind calls; empty for none.</summary>
    public string Name => Text(Type == Bind ? Array.IndexOf(Body, (byte)0) + 1 : 0);

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

    /// <summary>The same without a name.</summary>
    public Message Unnamed()
    {
        var start = Type == Bind ? Array.IndexOf(Body, (byte)0) + 1 : 0;
        return this with { Body = [.. Body[..start], .. Body[Array.IndexOf(Body, (byte)0, start)..]] };
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
/// <param name="prepared">The statements that the connection has left with the server, by their names.</param>
sealed class Exchange(int connection, List<Message> asked, IReadOnlyDictionary<string, Message> prepared)
{
    /// <summary>Parses of our own, of which the client must not hear.</summary>
    readonly HashSet<object> ownParses = new(ReferenceEqualityComparer.Instance);

    /// <summary>A number of the connection on the wire.</summary>
    public int Connection => connection;

    public IReadOnlyList<Message> Asked => asked;

    /// <summary>Every statement in its turn, also those that were left with the server before and are only called by name.</summary>
    public IReadOnlyList<string> Statements => [.. Places().Select(p => p.Text.Statement!)];

    /// <summary>What the server answered; known after it did.</summary>
    public List<Message> Answered { get; } = [];

    /// <summary>Statements slipped in around it, of which the client hears nothing.</summary>
    public string? Ahead { get; set; }

    public string? Behind { get; set; }

    internal bool Hidden { get; init; }

    /// <summary>The client asked for more in the same go: it hears that the server is ready only after that.</summary>
    internal bool GoesOn { get; private init; }

    readonly TaskCompletionSource<bool> passed = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Whether the server did it and the client heard so.</summary>
    internal Task<bool> Passed => passed.Task;

    internal void Pass(bool well) => passed.TrySetResult(well);

    /// <summary>
    /// What is asked, and then the commit that goes with it, as two exchanges: so that there is a moment between the last effect
    /// and the commit, in which a test can act.
    /// </summary>
    internal IReadOnlyList<Exchange> BeforeItsCommit() =>
        Places().ToList() is [_, .., var (at, text)] && text.Statement!.StartsWith("COMMIT", StringComparison.OrdinalIgnoreCase)
            ? [new Exchange(connection, [.. asked[..at], new Message(Message.Sync, [])], prepared) { GoesOn = true }, new Exchange(connection, asked[at..], prepared)]
            : [this];

    /// <summary>What the server would answer to one statement without rows.</summary>
    internal IEnumerable<Message> AsDone(string tag) => asked.Select(m => m.Type switch
    {
        Message.Parse => new Message(Message.Parsed, []),
        Message.Bind => new Message(Message.Bound, []),
        Message.Describe => new Message(Message.NoRows, []),
        Message.Execute or Message.Query => Message.OfComplete(tag),
        _ => null,
    }).OfType<Message>();

    public bool Says(string word) => Statements.Any(s => s.Contains(word, StringComparison.OrdinalIgnoreCase));

    /// <summary>Begins with the word, as BEGIN and COMMIT do.</summary>
    public bool Is(string word) => Statements.Any(s => s.StartsWith(word, StringComparison.OrdinalIgnoreCase));

    /// <summary>What the pool sends when a connection changes hands, and what is told to other screens after a commit: no command of anybody.</summary>
    public bool IsAside => Statements.All(s => s.Contains("DISCARD", StringComparison.OrdinalIgnoreCase) || s.Contains("pg_notify", StringComparison.OrdinalIgnoreCase));

    /// <summary>Puts another statement in the place of one; false when nothing was changed.</summary>
    public bool Rewrite(Func<string, string> change)
    {
        var changes = Places().Select(p => (p.At, p.Text, New: change(p.Text.Statement!))).Where(p => p.New != p.Text.Statement).ToList();
        foreach (var (at, text, other) in changes.AsEnumerable().Reverse())
        {
            if (asked[at].Type != Message.Bind)
            {
                asked[at] = text.With(other);
                continue;
            }
            asked[at] = asked[at].Unnamed();
            asked.Insert(at, text.Unnamed().With(other));
            ownParses.Add(asked[at]);
        }
        return changes.Count > 0;
    }

    /// <summary>What the client hears of the answer.</summary>
    internal IReadOnlyList<Message> Heard()
    {
        var parses = asked.Where(m => m.Type == Message.Parse).ToList();
        var parsed = 0;
        return [.. Answered.Where(m => m.Type != Message.Parsed || !ownParses.Contains(parses[parsed++]))];
    }

    IEnumerable<(int At, Message Text)> Places()
    {
        var here = new HashSet<string> { "" };
        for (var at = 0; at < asked.Count; at++)
        {
            var message = asked[at];
            if (message.Type == Message.Parse)
                here.Add(message.Name);
            if (message.Type is Message.Query or Message.Parse)
                yield return (at, message);
            else if (message.Type == Message.Bind && !here.Contains(message.Name) && prepared.TryGetValue(message.Name, out var text))
                yield return (at, text);
        }
    }
}
