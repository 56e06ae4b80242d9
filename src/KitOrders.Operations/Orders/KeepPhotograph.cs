using System.Security.Cryptography;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// Keeps a photograph with a step of an order. It may arrive after the work was finished, when a tablet was without network;
/// the same picture sent twice is one.
/// </summary>
public sealed class KeepPhotograph(Desk desk)
{
    /// <summary>More than anybody needs of one step; beyond it something is wrong.</summary>
    public const int MostOfAStep = 20;

    public static string Sha256Of(ReadOnlySpan<byte> content) => Convert.ToHexStringLower(SHA256.HashData(content));

    public Task<Outcome<string>> Run(Call call, string number, int step, byte[] content, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Technician | Roles.Planner, "keep-photograph", async work =>
        {
            var type = Photograph.TypeOf(content);
            if (type.Refusal is { } noPicture)
                return noPicture;
            var found = await OrderLookup.FindLocked(work, number);
            if (found.Refusal is { } unknown)
                return unknown;
            var order = found.Value;
            if (order.State is not (OrderState.Underway or OrderState.Finished))
                return Refusal.Conflict("order-state", $"Order {number} is {Word.Of(order.State)}. Photographs are kept while it is underway or finished.");
            var target = await work.Db.OrderSteps.SingleOrDefaultAsync(s => s.OrderId == order.Id && s.Number == step, ct);
            if (target is null)
                return Refusal.NotFound("step-unknown", $"Order {number} has no step {step}.");
            var sha = Sha256Of(content);
            var kept = await work.Db.StepPhotographs.Where(p => p.OrderStepId == target.Id).Select(p => p.Sha256).ToListAsync(ct);
            if (kept.Contains(sha))
            {
                work.Audit($"order {number}, step {step}", "The same photograph came once more; it is kept once.", order.Id);
                return number;
            }
            if (kept.Count >= MostOfAStep)
                return Refusal.Conflict("photographs-enough", $"Step {step} holds {MostOfAStep} photographs already. Nothing was kept.");
            work.Db.StepPhotographs.Add(new StepPhotograph
            {
                OrderId = order.Id, OrderStepId = target.Id, PersonId = work.Actor.Person, ReceivedAt = work.Now,
                ContentType = type.Value, Sha256 = sha, Content = content,
            });
            order.Touch();
            work.Audit($"order {number}, step {step}", $"Photograph of step {step} kept, {content.Length / 1024} kB.", order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);
}
