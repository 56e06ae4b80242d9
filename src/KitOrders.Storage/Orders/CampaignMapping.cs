using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace KitOrders.Storage.Orders;

sealed class CampaignMapping : IEntityTypeConfiguration<Campaign>
{
    public void Configure(EntityTypeBuilder<Campaign> table)
    {
        table.ToTable("campaign");
        table.Property(c => c.Id).UseIdentityByDefaultColumn();
        table.Property(c => c.Number).HasMaxLength(Campaign.NumberMaxLength);
        table.Property(c => c.Name).HasMaxLength(Campaign.NameMaxLength);
        table.HasIndex(c => c.Number).IsUnique();
        table.HasOne<Job>().WithMany().HasForeignKey(c => c.JobId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(c => c.MadeById).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class OrderSpareNeedMapping : IEntityTypeConfiguration<OrderSpareNeed>
{
    public void Configure(EntityTypeBuilder<OrderSpareNeed> table)
    {
        table.ToTable("order_spare_need", t => t.HasCheckConstraint("needs_something", "for_all >= 0 and by_rate >= 0 and for_all + by_rate > 0 and alone >= 0"));
        table.HasKey(n => new { n.OrderId, n.PartId });
        table.Property(n => n.Rate).HasPrecision(18, 12);
        table.Ignore(n => n.Share);
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(n => n.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Part>().WithMany().HasForeignKey(n => n.PartId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class SpareUseMapping : IEntityTypeConfiguration<SpareUse>
{
    public void Configure(EntityTypeBuilder<SpareUse> table)
    {
        table.ToTable("spare_use", t => t.HasCheckConstraint("use_not_negative", "quantity >= 0"));
        table.HasKey(u => new { u.OrderId, u.ReservationId });
        table.HasOne<WorkOrder>().WithMany().HasForeignKey(u => u.OrderId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<PooledReservation>().WithMany().HasForeignKey(u => u.ReservationId).OnDelete(DeleteBehavior.Restrict);
    }
}
