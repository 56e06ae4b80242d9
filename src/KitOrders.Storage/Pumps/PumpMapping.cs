using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace KitOrders.Storage.Pumps;

sealed class FluidMapping : IEntityTypeConfiguration<Fluid>
{
    public void Configure(EntityTypeBuilder<Fluid> table)
    {
        table.ToTable("fluid");
        table.Property(f => f.Id).UseIdentityByDefaultColumn();
        table.HasIndex(f => f.Name).IsUnique();
    }
}

sealed class PumpModelMapping : IEntityTypeConfiguration<PumpModel>
{
    public void Configure(EntityTypeBuilder<PumpModel> table)
    {
        table.ToTable("pump_model");
        table.Property(m => m.Id).UseIdentityByDefaultColumn();
        table.HasIndex(m => m.Code).IsUnique();
    }
}

sealed class PositionMapping : IEntityTypeConfiguration<Position>
{
    public void Configure(EntityTypeBuilder<Position> table)
    {
        table.ToTable("position", t => t.HasCheckConstraint("criticality_1_to_10", "criticality between 1 and 10"));
        table.Property(p => p.Id).UseIdentityByDefaultColumn();
        table.Property(p => p.Version).IsConcurrencyToken();
        table.HasIndex(p => p.Tag).IsUnique();
        table.HasOne<Fluid>().WithMany().HasForeignKey(p => p.FluidId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PumpMapping : IEntityTypeConfiguration<Pump>
{
    public void Configure(EntityTypeBuilder<Pump> table)
    {
        table.ToTable("pump");
        table.Property(p => p.Id).UseIdentityByDefaultColumn();
        table.Property(p => p.Version).IsConcurrencyToken();
        table.HasIndex(p => p.Serial).IsUnique();
        // One pump stands at a position at a time.
        table.HasIndex(p => p.PositionId).IsUnique();
        table.HasOne<PumpModel>().WithMany().HasForeignKey(p => p.ModelId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Position>().WithMany().HasForeignKey(p => p.PositionId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class StrokeReadingMapping : IEntityTypeConfiguration<StrokeReading>
{
    public void Configure(EntityTypeBuilder<StrokeReading> table)
    {
        table.ToTable("stroke_reading");
        table.HasOne<Pump>().WithMany().HasForeignKey(r => r.PumpId).OnDelete(DeleteBehavior.Restrict);
        table.HasIndex(r => new { r.PumpId, r.ReadOn });
        table.HasOne<Person>().WithMany().HasForeignKey(r => r.ReadById).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PumpStayMapping : IEntityTypeConfiguration<PumpStay>
{
    public void Configure(EntityTypeBuilder<PumpStay> table)
    {
        table.ToTable("pump_stay", t => t.HasCheckConstraint("until_not_before_from", "\"until\" is null or \"from\" is null or \"until\" >= \"from\""));
        table.Property(s => s.Id).UseIdentityByDefaultColumn();
        table.HasIndex(s => s.PumpId);
        table.HasIndex(s => s.PositionId);
        // Of a pump, and of a position, one stay is the present one.
        table.HasIndex(s => s.PumpId, "present_of_pump").IsUnique().HasFilter("\"until\" is null").HasDatabaseName("ix_pump_stay_present_of_pump");
        table.HasIndex(s => s.PositionId, "present_of_position").IsUnique().HasFilter("\"until\" is null").HasDatabaseName("ix_pump_stay_present_of_position");
        table.HasOne<Pump>().WithMany().HasForeignKey(s => s.PumpId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Position>().WithMany().HasForeignKey(s => s.PositionId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class FittedKitMapping : IEntityTypeConfiguration<FittedKit>
{
    public void Configure(EntityTypeBuilder<FittedKit> table)
    {
        table.ToTable("fitted_kit");
        table.HasIndex(f => new { f.PumpId, f.KitPartId }).IsUnique();
        table.HasOne<Pump>().WithMany().HasForeignKey(f => f.PumpId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<KitRevision>().WithMany().HasForeignKey(f => f.KitRevisionId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Part>().WithMany().HasForeignKey(f => f.KitPartId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(f => f.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class FittedLotMapping : IEntityTypeConfiguration<FittedLot>
{
    public void Configure(EntityTypeBuilder<FittedLot> table)
    {
        table.ToTable("fitted_lot");
        table.HasIndex(f => f.PumpId);
        table.HasIndex(f => f.LotId);
        table.HasOne<Pump>().WithMany().HasForeignKey(f => f.PumpId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(f => f.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Lot>().WithMany().HasForeignKey(f => f.LotId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Part>().WithMany().HasForeignKey(f => f.PartId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PumpChangeMapping : IEntityTypeConfiguration<PumpChange>
{
    public void Configure(EntityTypeBuilder<PumpChange> table)
    {
        table.ToTable("pump_change");
        table.HasIndex(c => c.PumpId);
        table.HasOne<Pump>().WithMany().HasForeignKey(c => c.PumpId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(c => c.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<PumpModel>().WithMany().HasForeignKey(c => c.ModelBefore).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<PumpModel>().WithMany().HasForeignKey(c => c.ModelAfter).OnDelete(DeleteBehavior.Restrict);
    }
}
