using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;
using KitOrders.Storage.Orders;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace KitOrders.Storage.Stock;

sealed class BinMapping : IEntityTypeConfiguration<Bin>
{
    public void Configure(EntityTypeBuilder<Bin> table)
    {
        table.ToTable("bin");
        table.Property(b => b.Id).UseIdentityByDefaultColumn();
        table.HasIndex(b => b.Code).IsUnique();
    }
}

sealed class LotMapping : IEntityTypeConfiguration<Lot>
{
    public void Configure(EntityTypeBuilder<Lot> table)
    {
        table.ToTable("lot");
        table.Property(l => l.Id).UseIdentityByDefaultColumn();
        table.Property(l => l.Number).HasMaxLength(Lot.NumberMaxLength);
        table.Ignore(l => l.GoodUntil);
        table.HasIndex(l => new { l.PartId, l.Number }).IsUnique();
        table.HasIndex(l => l.Number);
        table.HasOne<Part>().WithMany().HasForeignKey(l => l.PartId).OnDelete(DeleteBehavior.Restrict);
    }
}

/// <summary>The last gate against promising what is not there.</summary>
sealed class BinStockMapping : IEntityTypeConfiguration<BinStock>
{
    public void Configure(EntityTypeBuilder<BinStock> table)
    {
        table.ToTable("bin_stock", t =>
        {
            t.HasCheckConstraint("on_hand_not_negative", "on_hand >= 0");
            t.HasCheckConstraint("reserved_within_on_hand", "reserved between 0 and on_hand");
        });
        table.HasKey(s => new { s.LotId, s.BinId });
        // No index may mention a balance, so that changing one writes no index.
        table.HasIndex(s => s.PartId);
        table.HasAnnotation("Npgsql:StorageParameter:fillfactor", 60);
        table.HasOne<Lot>().WithMany().HasForeignKey(s => s.LotId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Bin>().WithMany().HasForeignKey(s => s.BinId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Part>().WithMany().HasForeignKey(s => s.PartId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class MovementMapping : IEntityTypeConfiguration<Movement>
{
    public void Configure(EntityTypeBuilder<Movement> table)
    {
        table.ToTable("movement", t =>
        {
            t.HasCheckConstraint("moves_something", "quantity <> 0");
            t.HasCheckConstraint("on_hand_after_not_negative", "on_hand_after >= 0");
        });
        table.HasIndex(m => new { m.PartId, m.Id });
        table.HasIndex(m => m.OrderId).HasFilter("order_id is not null");
        table.HasOne<Part>().WithMany().HasForeignKey(m => m.PartId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Lot>().WithMany().HasForeignKey(m => m.LotId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Bin>().WithMany().HasForeignKey(m => m.BinId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(m => m.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(m => m.PersonId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Movement>().WithMany().HasForeignKey(m => m.CorrectsId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class HeldStockMapping : IEntityTypeConfiguration<HeldStock>
{
    public void Configure(EntityTypeBuilder<HeldStock> table)
    {
        table.ToTable("reservation", t =>
        {
            t.HasCheckConstraint("held_not_negative", "held >= 0");
            t.HasCheckConstraint("accounted_within_picked",
                "fitted >= 0 and returned >= 0 and scrapped >= 0 and fitted + returned + scrapped <= picked");
            t.HasCheckConstraint("held_for_an_order_or_a_campaign", DemandedPartMapping.ExactlyOne);
        });
        table.HasDiscriminator<string>(DemandedPartMapping.Owner)
            .HasValue<Reservation>(DemandedPartMapping.OfOrder).HasValue<PooledReservation>(DemandedPartMapping.OfCampaign).IsComplete();
        table.Property<string>(DemandedPartMapping.Owner).HasMaxLength(8).HasDefaultValue(DemandedPartMapping.OfOrder);
        table.Property(r => r.Id).UseIdentityByDefaultColumn();
        table.Ignore(r => r.Unaccounted);
        table.HasIndex(r => new { r.DemandLineId, r.LotId, r.BinId }).IsUnique();
        table.HasIndex(r => r.PartId);
        table.HasOne<DemandedPart>().WithMany().HasForeignKey(r => r.DemandLineId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<BinStock>().WithMany().HasForeignKey(r => new { r.LotId, r.BinId }).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class ReservationMapping : IEntityTypeConfiguration<Reservation>
{
    public void Configure(EntityTypeBuilder<Reservation> table)
    {
        table.HasIndex(r => r.OrderId);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(r => r.OrderId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PooledReservationMapping : IEntityTypeConfiguration<PooledReservation>
{
    public void Configure(EntityTypeBuilder<PooledReservation> table)
    {
        table.HasIndex(r => r.CampaignId).HasFilter("campaign_id is not null");
        table.HasOne<Campaign>().WithMany().HasForeignKey(r => r.CampaignId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class IncomingMapping : IEntityTypeConfiguration<Incoming>
{
    public void Configure(EntityTypeBuilder<Incoming> table)
    {
        table.ToTable("incoming", t => t.HasCheckConstraint("quantities_not_negative", "quantity >= 0 and received >= 0"));
        table.Ignore(i => i.Outstanding);
        table.HasIndex(i => new { i.Reference, i.PartId }).IsUnique();
        table.HasIndex(i => i.PartId);
        table.HasOne<Part>().WithMany().HasForeignKey(i => i.PartId).OnDelete(DeleteBehavior.Restrict);
    }
}

/// <summary>Counts are kept even when they found what the book says: accuracy is made of them.</summary>
sealed class BinCountMapping : IEntityTypeConfiguration<BinCount>
{
    public void Configure(EntityTypeBuilder<BinCount> table)
    {
        table.ToTable("bin_count", t => t.HasCheckConstraint("counts_not_negative", "book >= 0 and counted >= 0"));
        table.HasIndex(c => c.At);
        table.HasOne<Part>().WithMany().HasForeignKey(c => c.PartId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Lot>().WithMany().HasForeignKey(c => c.LotId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Bin>().WithMany().HasForeignKey(c => c.BinId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(c => c.PersonId).OnDelete(DeleteBehavior.Restrict);
    }
}
