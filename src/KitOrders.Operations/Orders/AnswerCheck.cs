using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// A named person answers a check that the record cannot answer, with a note of what was seen. The answer "failed" keeps the
/// order from going on; nothing is waived.
/// </summary>
public sealed class AnswerCheck(Desk desk)
{
    public const string SaysNo = "failed";
    public const int TextMaxLength = 1_000;

    public Task<Outcome<string>> Run(Call call, string number, Check check, string? kit, string answer, string? note, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner | Roles.Technician | Roles.Manager, "answer-check", async work =>
        {
            if (Refused(answer, note) is { } unreadable)
                return unreadable;
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            if (order.State is not (OrderState.Draft or OrderState.Open or OrderState.Staged))
                return Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.State)}. Checks are answered before work starts.");
            var judgements = (await OrderJudging.Judge(work.Reading, order, order.FitOn)).Where(j => j.Check == check).ToList();
            var judged = kit is null && judgements.Count == 1 ? judgements[0] : judgements.Find(j => j.Kit == kit);
            if (judged is null)
                return Refusal.Field("kit", "kit-unknown", kit is null
                    ? "The order has several kits: name the one the answer is about." : $"Order {number} has no kit {kit}.");
            if (SuitabilityGate.MayAnswer(judged, note) is { } no)
                return no;
            await Keep(work, order, judged, answer, note!);
            order.Touch();
            work.Changed($"order:{number}");
            return number;
        }, ct);

    internal static Refusal? Refused(string? answer, string? note) =>
        string.IsNullOrWhiteSpace(answer) ? Refusal.Field("answer", "answer-missing", "Say what was found: passed, failed, or in your words.")
        : answer.Length > TextMaxLength || note?.Length > TextMaxLength ? Refusal.Field("note", "note-too-long", $"An answer and its note have at most {TextMaxLength} characters each.")
        : null;

    /// <summary>Writes the answer down, with who gave it.</summary>
    internal static async Task Keep(Work work, WorkOrder order, Judgement judged, string answer, string note)
    {
        var row = await work.Db.OrderChecks.SingleOrDefaultAsync(c => c.OrderId == order.Id && c.Kit == judged.Kit && c.Check == judged.Check, work.Ct);
        if (row is null)
            work.Db.OrderChecks.Add(row = new OrderCheck { OrderId = order.Id, Kit = judged.Kit, Check = judged.Check });
        row.Answer = answer.Trim();
        row.AnswerNote = note.Trim();
        row.AnsweredById = work.Actor.Person;
        row.AnsweredAt = work.Now;
        work.Audit($"order {order.Number}", $"Answered {Word.Of(judged.Check)} of {judged.Kit}: {row.Answer}. {row.AnswerNote}", order.Id);
    }

    /// <summary>The checks somebody has answered so that the order may go on.</summary>
    internal static HashSet<(Check, string)> Answered(IEnumerable<OrderCheck> kept) => [.. kept.Where(c => Allows(c.Answer)).Select(c => (c.Check, c.Kit))];

    /// <summary>Reads a check and its kit as they are joined in a statement.</summary>
    internal static (Check, string) Read(string joined) =>
        joined.Split(' ', 2) is [var check, var kit] && Word.TryRead<Check>(check, out var word) ? (word, kit) : throw new FormatException(joined);

    internal static bool Allows(string? answer) => answer is not null && !string.Equals(answer, SaysNo, StringComparison.OrdinalIgnoreCase);
}
