using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;

namespace KitOrders.Operations.Orders;

/// <summary>What opening makes of the order itself: its state, the revisions it was opened with, its frozen steps.</summary>
internal static class OpenedOrder
{
    const string Copied = """
        number, part_of, kind, text, signal_word, hazard, consequence, avoid, joint, bolts, sequence, target, low, high, unit, tolerance_pct, passes,
        hold_point, witnessed, part_id, minutes, tool, document, edition, page, document_id, pictures
        """;

    static readonly string CarryOver = Word.Of(StepKind.CarryOver);
    static readonly string Open = Word.Of(OrderState.Open);

    public static void Write(
        Trip trip, DraftToOpen draft, KitCatalogue catalogue, ProcedureRevisionId procedure, IReadOnlyList<Judgement> judgements, DateTimeOffset now)
    {
        var pieces = Pieces(draft, catalogue);
        trip.With("kits", draft.Kits.Select(k => k.Kit.Value).ToArray()).With("kitRevisions", draft.Kits.Select(k => draft.Revisions[k.Kit]!.Value.Value).ToArray())
            .With("order", draft.Id.Value).With("openedAt", now).With("procedure", procedure.Value).With("hours", draft.Hours).With("rate", draft.HourlyRate)
            .With("model", draft.Model.Value).With("keptParts", pieces.Select(p => p.Part.Value).ToArray()).With("keptPieces", pieces.Select(p => p.Pieces).ToArray())
            .With("judged", ChecksKept.Text(judgements))
            .Tell($"""
                with kits as (
                  update order_kit k set kit_revision_id = t.revision from unnest(@kits, @kitRevisions) t(kit, revision)
                  where k.order_id = @order and k.kit_part_id = t.kit
                ), steps as (
                  insert into order_step (order_id, pieces, {Copied})
                  select @order, coalesce((select p.pieces from unnest(@keptParts, @keptPieces) p(part, pieces) where p.part = s.part_id and s.kind = '{CarryOver}'), 1),
                         {Copied}
                  from procedure_step s
                  where s.procedure_revision_id = @procedure and (s.model_id is null or s.model_id = @model)
                  order by s.number
                ), judged as (
                  insert into order_judgement (order_id, checks) values (@order, @judged)
                )
                update work_order set state = '{Open}', opened_at = @openedAt, procedure_revision_id = @procedure,
                       estimated_hours = @hours, hourly_rate = @rate, version = version + 1
                where id = @order
                """);
    }

    /// <summary>The steps of an order that is planned again: frozen anew, or as they are with the pieces that its kits now keep from the pump.</summary>
    public static void TellSteps(Trip trip, DraftToOpen draft, KitCatalogue catalogue, bool anew)
    {
        var pieces = Pieces(draft, catalogue);
        trip.With("order", draft.Id.Value).With("keptParts", pieces.Select(p => p.Part.Value).ToArray()).With("keptPieces", pieces.Select(p => p.Pieces).ToArray());
        if (anew)
        {
            trip.With("procedure", draft.Procedure!.Value.Value).With("model", draft.Model.Value).Tell("delete from order_step where order_id = @order");
            trip.Tell($"""
                insert into order_step (order_id, pieces, {Copied})
                select @order, 1, {Copied} from procedure_step s
                where s.procedure_revision_id = @procedure and (s.model_id is null or s.model_id = @model) order by s.number
                """);
        }
        trip.Tell($"""
            update order_step s set pieces = p.pieces from unnest(@keptParts, @keptPieces) p(part, pieces)
            where s.order_id = @order and s.kind = '{CarryOver}' and s.part_id = p.part
            """);
    }

    /// <summary>A carry-over step judges every piece of its part that the order's kits keep from the pump.</summary>
    static List<(Rules.Parts.PartId Part, int Pieces)> Pieces(DraftToOpen draft, KitCatalogue catalogue) =>
        [.. draft.Kits.SelectMany(k => catalogue.Revisions[k.Kit].Structure.Lines.Where(l => l.Source == LineSource.CarriedOver)
                .Select(l => (l.Part, Quantity: l.Quantity * k.Quantity)))
            .GroupBy(l => l.Part).Select(p => (p.Key, Math.Max(1, (int)Math.Ceiling(Math.Min(p.Sum(l => l.Quantity), 999)))))];
}
