using KitOrders.Rules;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <param name="Bytes">Size of the picture.</param>
public sealed record PhotographView(int Step, string Sha256, string ContentType, int Bytes, string Person, DateTimeOffset ReceivedAt);

/// <param name="Content">The picture as it came.</param>
public sealed record PhotographContent(string ContentType, ReadOnlyMemory<byte> Content);

/// <summary>The photographs of an order's steps.</summary>
public sealed class Photographs(Desk desk)
{
    public Task<Outcome<IReadOnlyList<PhotographView>>> Of(string number, CancellationToken ct) =>
        desk.Read<Outcome<IReadOnlyList<PhotographView>>>(async reading =>
        {
            var db = reading.Db;
            if (await OrderLookup.IdOf(db, number, reading.Ct) is not { } order)
                return OrderLookup.Unknown(number);
            return await (from photo in db.StepPhotographs
                          join step in db.OrderSteps on photo.OrderStepId equals step.Id
                          join person in db.People on photo.PersonId equals person.Id
                          where photo.OrderId == order
                          orderby step.Number, photo.Id
                          select new PhotographView(step.Number, photo.Sha256, photo.ContentType, photo.Content.Length, person.Name, photo.ReceivedAt))
                .ToListAsync(reading.Ct);
        }, ct);

    public Task<Outcome<PhotographContent>> One(string number, int step, string sha256, CancellationToken ct) =>
        desk.Read<Outcome<PhotographContent>>(async reading =>
        {
            var db = reading.Db;
            var found = await (from photo in db.StepPhotographs
                               join order in db.WorkOrders on photo.OrderId equals order.Id
                               join at in db.OrderSteps on photo.OrderStepId equals at.Id
                               where order.Number == number && at.Number == step && photo.Sha256 == sha256
                               select new { photo.ContentType, photo.Content }).SingleOrDefaultAsync(reading.Ct);
            return found is null
                ? Refusal.NotFound("photograph-unknown", $"Step {step} of order {number} has no such photograph.")
                : new PhotographContent(found.ContentType, found.Content);
        }, ct);
}
