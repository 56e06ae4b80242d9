using System.Text.Json;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace KitOrders.Storage.Orders;

sealed class WorkOrderMapping : IEntityTypeConfiguration<WorkOrder>
{
    public void Configure(EntityTypeBuilder<WorkOrder> table)
    {
        table.ToTable("work_order", t => t.HasCheckConstraint("work_class_1_to_10", "work_class between 1 and 10"));
        table.Property(o => o.Id).UseIdentityByDefaultColumn();
        table.Property(o => o.Number).HasMaxLength(WorkOrder.NumberMaxLength);
        table.Property(o => o.Version).IsConcurrencyToken();
        table.Ignore(o => o.FitOn);
        table.HasIndex(o => o.Number).IsUnique();
        table.HasIndex(o => o.PumpId);
        // Asked whenever an order is opened: what else is under way on its pump.
        table.HasIndex(o => o.PumpId, "living").HasDatabaseName("ix_work_order_pump_living").HasFilter("state in ('open', 'staged', 'underway', 'finished')");
        table.HasIndex(o => new { o.NeededBy, o.Id });
        table.HasIndex(o => new { o.State, o.Id });
        table.HasIndex(o => o.CampaignId).HasFilter("campaign_id is not null");
        table.HasOne<Campaign>().WithMany().HasForeignKey(o => o.CampaignId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Pump>().WithMany().HasForeignKey(o => o.PumpId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Position>().WithMany().HasForeignKey(o => o.PositionId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Job>().WithMany().HasForeignKey(o => o.JobId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(o => o.MadeById).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<ProcedureRevision>().WithMany().HasForeignKey(o => o.ProcedureRevisionId).OnDelete(DeleteBehavior.Restrict);
        table.HasMany(o => o.Kits).WithOne().HasForeignKey(k => k.OrderId).OnDelete(DeleteBehavior.Cascade);
    }
}

sealed class OrderKitMapping : IEntityTypeConfiguration<OrderKit>
{
    public void Configure(EntityTypeBuilder<OrderKit> table)
    {
        table.ToTable("order_kit", t => t.HasCheckConstraint("quantity_above_zero", "quantity > 0"));
        table.HasKey(k => new { k.OrderId, k.KitPartId });
        table.HasOne<Part>().WithMany().HasForeignKey(k => k.KitPartId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<KitRevision>().WithMany().HasForeignKey(k => k.KitRevisionId).OnDelete(DeleteBehavior.Restrict);
    }
}

/// <summary>What is asked for belongs to an order or, for pooled spares, to a campaign: to exactly one.</summary>
sealed class DemandedPartMapping : IEntityTypeConfiguration<DemandedPart>
{
    public const string Owner = "owner";
    public const string OfOrder = "order";
    public const string OfCampaign = "campaign";
    public const string ExactlyOne = "(owner = 'order') = (order_id is not null) and (owner = 'campaign') = (campaign_id is not null)";

    public void Configure(EntityTypeBuilder<DemandedPart> table)
    {
        table.ToTable("demand_line", t =>
        {
            t.HasCheckConstraint("nothing_negative", "gross >= 0 and built >= 0 and picked >= 0 and reserved >= 0 and short >= 0");
            t.HasCheckConstraint("gross_is_required_and_built", "gross = required + built");
            t.HasCheckConstraint("required_is_picked_reserved_and_short", "required = picked + reserved + short");
            t.HasCheckConstraint("demand_of_an_order_or_a_campaign", ExactlyOne);
        });
        table.HasDiscriminator<string>(Owner).HasValue<DemandLine>(OfOrder).HasValue<PooledLine>(OfCampaign).IsComplete();
        table.Property<string>(Owner).HasMaxLength(8).HasDefaultValue(OfOrder);
        table.Property(l => l.Id).UseIdentityByDefaultColumn();
        // The waiting shortages of a part, and nothing else, so that the roll-up reads little.
        table.HasIndex(l => l.PartId).HasFilter("short > 0").HasDatabaseName("ix_demand_line_short");
        table.HasOne<Part>().WithMany().HasForeignKey(l => l.PartId).OnDelete(DeleteBehavior.Restrict);
        table.Property(l => l.Origins).HasColumnType("jsonb").HasConversion(DemandOrigins.Kept, DemandOrigins.Compared);
    }
}

sealed class DemandLineMapping : IEntityTypeConfiguration<DemandLine>
{
    public void Configure(EntityTypeBuilder<DemandLine> table)
    {
        table.HasIndex(l => new { l.OrderId, l.PartId, l.Source }).IsUnique();
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(l => l.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PooledLineMapping : IEntityTypeConfiguration<PooledLine>
{
    public void Configure(EntityTypeBuilder<PooledLine> table)
    {
        table.HasIndex(l => new { l.CampaignId, l.PartId }).IsUnique().HasFilter("campaign_id is not null");
        table.HasOne<Campaign>().WithMany().HasForeignKey(l => l.CampaignId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class ReplacementMapping : IEntityTypeConfiguration<Replacement>
{
    public void Configure(EntityTypeBuilder<Replacement> table)
    {
        table.ToTable("replacement", t =>
        {
            t.HasCheckConstraint("quantity_above_zero", "quantity > 0");
            t.HasCheckConstraint("another_line", "line_id <> by_line_id");
        });
        table.HasKey(r => new { r.LineId, r.ByLineId });
        table.Property(r => r.Reason).HasMaxLength(Replacement.ReasonMaxLength);
        table.HasIndex(r => r.OrderId);
        table.HasIndex(r => r.ByLineId);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(r => r.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<DemandLine>().WithMany().HasForeignKey(r => r.LineId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<DemandLine>().WithMany().HasForeignKey(r => r.ByLineId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(r => r.MadeById).OnDelete(DeleteBehavior.Restrict);
        table.Property(r => r.Origins).HasColumnType("jsonb").HasConversion(DemandOrigins.Kept, DemandOrigins.Compared);
    }
}

/// <summary>Where a demand comes from is read with its line and never changes, so it is kept in the line's own row.</summary>
static class DemandOrigins
{
    public static readonly ValueConverter<IReadOnlyList<DemandOrigin>, string> Kept = new(
        origins => Text(origins), text => JsonSerializer.Deserialize<List<DemandOrigin>>(text, JsonSerializerOptions.Web)!);

    public static readonly ValueComparer<IReadOnlyList<DemandOrigin>> Compared = new(
        (a, b) => a!.SequenceEqual(b!), origins => origins.Count, origins => origins);

    public static string Text(IReadOnlyList<DemandOrigin> origins) => JsonSerializer.Serialize(origins, JsonSerializerOptions.Web);
}

sealed class OrderStepMapping : IEntityTypeConfiguration<OrderStep>
{
    public void Configure(EntityTypeBuilder<OrderStep> table)
    {
        table.ToTable("order_step");
        table.HasIndex(s => new { s.OrderId, s.Number }).IsUnique();
        // Few steps are about a part; the others need no entry.
        table.HasIndex(s => s.PartId).HasFilter("part_id is not null");
        table.HasIndex(s => s.DocumentId).HasFilter("document_id is not null");
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(s => s.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Part>().WithMany().HasForeignKey(s => s.PartId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Document>().WithMany().HasForeignKey(s => s.DocumentId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class StepResultMapping : IEntityTypeConfiguration<StepResult>
{
    public void Configure(EntityTypeBuilder<StepResult> table)
    {
        table.ToTable("step_result", t => t.HasCheckConstraint("witness_is_another", "witness_id is null or witness_id <> person_id"));
        table.HasIndex(r => r.OrderId);
        table.HasIndex(r => r.OrderStepId);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(r => r.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<OrderStep>().WithMany().HasForeignKey(r => r.OrderStepId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(r => r.PersonId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(r => r.WitnessId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<StepResult>().WithMany().HasForeignKey(r => r.CorrectsId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class StepPhotographMapping : IEntityTypeConfiguration<StepPhotograph>
{
    public void Configure(EntityTypeBuilder<StepPhotograph> table)
    {
        table.ToTable("step_photograph", t => t.HasCheckConstraint("at_most_5_mb", "octet_length(content) between 1 and 5242880"));
        table.Property(p => p.ContentType).HasMaxLength(20);
        table.Property(p => p.Sha256).HasMaxLength(StepPhotograph.Sha256Length);
        table.HasIndex(p => p.OrderId);
        table.HasIndex(p => new { p.OrderStepId, p.Sha256 }).IsUnique();
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(p => p.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<OrderStep>().WithMany().HasForeignKey(p => p.OrderStepId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(p => p.PersonId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class OrderJudgementMapping : IEntityTypeConfiguration<OrderJudgement>
{
    public void Configure(EntityTypeBuilder<OrderJudgement> table)
    {
        table.ToTable("order_judgement");
        table.HasKey(j => j.OrderId);
        table.Property(j => j.OrderId).ValueGeneratedNever();
        table.HasOne<WorkOrder>().WithOne().HasForeignKey<OrderJudgement>(j => j.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class OrderCheckMapping : IEntityTypeConfiguration<OrderCheck>
{
    public void Configure(EntityTypeBuilder<OrderCheck> table)
    {
        table.ToTable("order_check");
        table.HasKey(c => new { c.OrderId, c.Kit, c.Check });
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(c => c.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(c => c.AnsweredById).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PermitMapping : IEntityTypeConfiguration<Permit>
{
    public void Configure(EntityTypeBuilder<Permit> table)
    {
        table.ToTable("permit");
        table.HasIndex(p => p.OrderId);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(p => p.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(p => p.RecordedById).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class HoursWorkedMapping : IEntityTypeConfiguration<HoursWorked>
{
    public void Configure(EntityTypeBuilder<HoursWorked> table)
    {
        table.ToTable("hours_worked", t => t.HasCheckConstraint("hours_not_negative", "hours >= 0"));
        table.HasIndex(h => h.OrderId);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(h => h.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class RemovedPartMapping : IEntityTypeConfiguration<RemovedPart>
{
    public void Configure(EntityTypeBuilder<RemovedPart> table)
    {
        table.ToTable("removed_part", t => t.HasCheckConstraint("quantity_above_zero", "quantity > 0"));
        table.HasIndex(r => r.OrderId);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(r => r.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Part>().WithMany().HasForeignKey(r => r.PartId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class AuditMapping : IEntityTypeConfiguration<AuditEntry>
{
    public void Configure(EntityTypeBuilder<AuditEntry> table)
    {
        table.ToTable("audit");
        table.HasIndex(a => a.OrderId).HasFilter("order_id is not null");
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(a => a.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(a => a.PersonId).OnDelete(DeleteBehavior.Restrict);
    }
}
