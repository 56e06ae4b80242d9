using KitOrders.Rules.Parts;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace KitOrders.Storage.Parts;

sealed class PartMapping : IEntityTypeConfiguration<Part>
{
    public void Configure(EntityTypeBuilder<Part> table)
    {
        table.ToTable("part", t => t.HasCheckConstraint("superseded_by_another", "superseded_by_id <> id"));
        table.Property(p => p.Id).UseIdentityByDefaultColumn();
        table.Property(p => p.Number).HasMaxLength(Part.NumberMaxLength);
        table.Property(p => p.Description).HasMaxLength(Part.DescriptionMaxLength);
        table.HasIndex(p => p.Number).IsUnique();
        table.HasIndex(p => p.Barcode);
        // Few parts are superseded; the others need no entry.
        table.HasIndex(p => p.SupersededById).HasFilter("superseded_by_id is not null");
        table.HasOne<Part>().WithMany().HasForeignKey(p => p.SupersededById).OnDelete(DeleteBehavior.Restrict);
    }
}

/// <summary>Made with the part by a trigger, so that no way of adding parts can forget it.</summary>
sealed class PartStockMapping : IEntityTypeConfiguration<PartStock>
{
    public void Configure(EntityTypeBuilder<PartStock> table)
    {
        table.ToTable("part_stock");
        table.HasKey(s => s.PartId);
        table.Property(s => s.PartId).ValueGeneratedNever();
        table.HasOne<Part>().WithOne().HasForeignKey<PartStock>(s => s.PartId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PartAlternateMapping : IEntityTypeConfiguration<PartAlternate>
{
    public void Configure(EntityTypeBuilder<PartAlternate> table)
    {
        table.ToTable("part_alternate", t => t.HasCheckConstraint("another_part", "part_id <> alternate_id"));
        table.HasKey(a => new { a.PartId, a.AlternateId });
        table.HasOne<Part>().WithMany().HasForeignKey(a => a.PartId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Part>().WithMany().HasForeignKey(a => a.AlternateId).OnDelete(DeleteBehavior.Restrict);
    }
}
