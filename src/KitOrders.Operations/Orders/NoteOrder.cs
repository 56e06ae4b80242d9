using KitOrders.Rules;
using KitOrders.Rules.People;

namespace KitOrders.Operations.Orders;

/// <summary>Writes a sentence into the order's history.</summary>
public sealed class NoteOrder(Desk desk)
{
    public const int TextMaxLength = 1_000;

    public Task<Outcome<string>> Run(Call call, string number, string note, CancellationToken ct) =>
        desk.Write<string>(call, Roles.All, "note-order", async work =>
        {
            if (string.IsNullOrWhiteSpace(note) || note.Length > TextMaxLength)
                return Refusal.Field("note", "note-missing", $"A note has 1 to {TextMaxLength} characters.");
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            found.Value.Touch();
            work.Audit($"order {number}", $"Note: {note.Trim()}", found.Value.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}
