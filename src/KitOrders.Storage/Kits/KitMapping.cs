using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace KitOrders.Storage.Kits;

sealed class KitRevisionMapping : IEntityTypeConfiguration<KitRevision>
{
    public void Configure(EntityTypeBuilder<KitRevision> table)
    {
        table.ToTable("kit_revision");
        table.Property(r => r.Id).UseIdentityByDefaultColumn();
        table.Property(r => r.Version).IsConcurrencyToken();
        table.HasIndex(r => new { r.PartId, r.Number }).IsUnique();
        // One revision of a kit is the current one.
        table.HasIndex(r => r.PartId).IsUnique().HasFilter("state = 'released'").HasDatabaseName("ix_kit_revision_current");
        table.HasOne<Part>().WithMany().HasForeignKey(r => r.PartId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(r => r.ReleasedBy).OnDelete(DeleteBehavior.Restrict);
        table.HasMany(r => r.Lines).WithOne().HasForeignKey(l => l.KitRevisionId).OnDelete(DeleteBehavior.Cascade);
        table.HasMany(r => r.Fits).WithOne().HasForeignKey(f => f.KitRevisionId).OnDelete(DeleteBehavior.Cascade);
    }
}

sealed class KitLineMapping : IEntityTypeConfiguration<KitLine>
{
    public void Configure(EntityTypeBuilder<KitLine> table)
    {
        table.ToTable("kit_line", t => t.HasCheckConstraint("quantity_above_zero", "quantity > 0"));
        table.Property(l => l.RejectRate).HasPrecision(9, 6);
        table.HasIndex(l => new { l.KitRevisionId, l.Number }).IsUnique();
        table.HasIndex(l => l.PartId);
        table.HasOne<Part>().WithMany().HasForeignKey(l => l.PartId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class KitFitMapping : IEntityTypeConfiguration<KitFit>
{
    public void Configure(EntityTypeBuilder<KitFit> table)
    {
        table.ToTable("kit_fit");
        table.HasIndex(f => new { f.KitRevisionId, f.ModelId }).IsUnique();
        table.HasOne<PumpModel>().WithMany().HasForeignKey(f => f.ModelId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<PumpModel>().WithMany().HasForeignKey(f => f.ConvertsToId).OnDelete(DeleteBehavior.Restrict);
    }
}
