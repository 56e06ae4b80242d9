using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;

namespace KitOrders.Operations.Procedures;

/// <summary>Keeps the file of a picture and answers its SHA-256, by which steps name it. The same picture sent twice is one.</summary>
public sealed class AddPicture(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, byte[] content, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "add-picture", work =>
        {
            var type = Photograph.TypeOf(content);
            if (type.Refusal is { } noPicture)
                return Task.FromResult<Outcome<string>>(noPicture.At("picture"));
            var sha = KeepPhotograph.Sha256Of(content);
            work.Last.With("sha", sha).With("type", type.Value).With("content", content).With("by", work.Actor.Person.Value).With("at", work.Now)
                .Tell("insert into picture_file (sha256, content_type, content, added_by_id, added_at) values (@sha, @type, @content, @by, @at) on conflict (sha256) do nothing");
            work.Audit("pictures of procedures", $"Picture kept, {(content.Length + 1023) / 1024} kB, {sha[..8]}.");
            return Task.FromResult<Outcome<string>>(sha);
        }, ct);
}
