using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace KitOrders.Storage;

/// <summary>How the types of the rules look as columns: ids as integers, states as the words of the trade, decimals exact.</summary>
static class Converters
{
    public static void Set(ModelConfigurationBuilder conventions)
    {
        conventions.Properties<PartId>().HaveConversion<PartIds>();
        conventions.Properties<LotId>().HaveConversion<LotIds>();
        conventions.Properties<BinId>().HaveConversion<BinIds>();
        conventions.Properties<ReservationId>().HaveConversion<ReservationIds>();
        conventions.Properties<KitRevisionId>().HaveConversion<KitRevisionIds>();
        conventions.Properties<OrderId>().HaveConversion<OrderIds>();
        conventions.Properties<CampaignId>().HaveConversion<CampaignIds>();
        conventions.Properties<DemandLineId>().HaveConversion<DemandLineIds>();
        conventions.Properties<PumpId>().HaveConversion<PumpIds>();
        conventions.Properties<PumpModelId>().HaveConversion<PumpModelIds>();
        conventions.Properties<PositionId>().HaveConversion<PositionIds>();
        conventions.Properties<DocumentId>().HaveConversion<DocumentIds>();
        conventions.Properties<FluidId>().HaveConversion<FluidIds>();
        conventions.Properties<ProcedureId>().HaveConversion<ProcedureIds>();
        conventions.Properties<ProcedureRevisionId>().HaveConversion<ProcedureRevisionIds>();
        conventions.Properties<JobId>().HaveConversion<JobIds>();
        conventions.Properties<PersonId>().HaveConversion<PersonIds>();

        conventions.Properties<Unit>().HaveConversion<Words<Unit>>();
        conventions.Properties<Control>().HaveConversion<Words<Control>>();
        conventions.Properties<Zone>().HaveConversion<Words<Zone>>();
        conventions.Properties<DocumentKind>().HaveConversion<Words<DocumentKind>>();
        conventions.Properties<SupplyKind>().HaveConversion<Words<SupplyKind>>();
        conventions.Properties<LineSource>().HaveConversion<Words<LineSource>>();
        conventions.Properties<SparePolicy>().HaveConversion<Words<SparePolicy>>();
        conventions.Properties<RevisionState>().HaveConversion<Words<RevisionState>>();
        conventions.Properties<Check>().HaveConversion<Words<Check>>();
        conventions.Properties<CheckResult>().HaveConversion<Words<CheckResult>>();
        conventions.Properties<PartOf>().HaveConversion<Words<PartOf>>();
        conventions.Properties<StepKind>().HaveConversion<Words<StepKind>>();
        conventions.Properties<SignalWord>().HaveConversion<Words<SignalWord>>();
        conventions.Properties<BoltSequence>().HaveConversion<Words<BoltSequence>>();
        conventions.Properties<StepOutcome>().HaveConversion<Words<StepOutcome>>();
        conventions.Properties<CarryOverDecision>().HaveConversion<Words<CarryOverDecision>>();
        conventions.Properties<OrderState>().HaveConversion<Words<OrderState>>();
        conventions.Properties<PumpAfterCancel>().HaveConversion<Words<PumpAfterCancel>>();
        conventions.Properties<RemovedTo>().HaveConversion<Words<RemovedTo>>();
        conventions.Properties<MovementKind>().HaveConversion<Words<MovementKind>>();
        conventions.Properties<Roles>().HaveConversion<RoleWords>();

        conventions.Properties<decimal>().HavePrecision(18, 4);
    }

    sealed class PartIds() : ValueConverter<PartId, int>(id => id.Value, value => new PartId(value));
    sealed class LotIds() : ValueConverter<LotId, int>(id => id.Value, value => new LotId(value));
    sealed class BinIds() : ValueConverter<BinId, int>(id => id.Value, value => new BinId(value));
    sealed class ReservationIds() : ValueConverter<ReservationId, int>(id => id.Value, value => new ReservationId(value));
    sealed class KitRevisionIds() : ValueConverter<KitRevisionId, int>(id => id.Value, value => new KitRevisionId(value));
    sealed class OrderIds() : ValueConverter<OrderId, int>(id => id.Value, value => new OrderId(value));
    sealed class CampaignIds() : ValueConverter<CampaignId, int>(id => id.Value, value => new CampaignId(value));
    sealed class DemandLineIds() : ValueConverter<DemandLineId, int>(id => id.Value, value => new DemandLineId(value));
    sealed class PumpIds() : ValueConverter<PumpId, int>(id => id.Value, value => new PumpId(value));
    sealed class PumpModelIds() : ValueConverter<PumpModelId, int>(id => id.Value, value => new PumpModelId(value));
    sealed class PositionIds() : ValueConverter<PositionId, int>(id => id.Value, value => new PositionId(value));
    sealed class DocumentIds() : ValueConverter<DocumentId, int>(id => id.Value, value => new DocumentId(value));
    sealed class FluidIds() : ValueConverter<FluidId, int>(id => id.Value, value => new FluidId(value));
    sealed class ProcedureIds() : ValueConverter<ProcedureId, int>(id => id.Value, value => new ProcedureId(value));
    sealed class ProcedureRevisionIds() : ValueConverter<ProcedureRevisionId, int>(id => id.Value, value => new ProcedureRevisionId(value));
    sealed class JobIds() : ValueConverter<JobId, int>(id => id.Value, value => new JobId(value));
    sealed class PersonIds() : ValueConverter<PersonId, int>(id => id.Value, value => new PersonId(value));

    sealed class Words<T>() : ValueConverter<T, string>(value => Word.Of(value), text => Read<T>(text)) where T : struct, Enum;

    sealed class RoleWords() : ValueConverter<Roles, string>(roles => RoleText.Of(roles), text => RoleText.Read(text));

    static T Read<T>(string text) where T : struct, Enum =>
        Word.TryRead<T>(text, out var value) ? value : throw new InvalidOperationException($"'{text}' is not a {typeof(T).Name}.");
}
