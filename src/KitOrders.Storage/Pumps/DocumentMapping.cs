using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace KitOrders.Storage.Pumps;

sealed class DocumentMapping : IEntityTypeConfiguration<Document>
{
    public void Configure(EntityTypeBuilder<Document> table)
    {
        table.ToTable("document", t =>
        {
            t.HasCheckConstraint("at_most_5_mb", "octet_length(content) between 1 and 5242880");
            t.HasCheckConstraint("of_a_model_or_a_pump", "num_nonnulls(model_id, pump_id) = 1");
        });
        table.Property(d => d.Id).UseIdentityByDefaultColumn();
        table.Property(d => d.Title).HasMaxLength(Document.TitleMaxLength);
        table.Property(d => d.Edition).HasMaxLength(Document.EditionMaxLength);
        table.Property(d => d.FileName).HasMaxLength(Document.FileNameMaxLength);
        table.Property(d => d.ContentType).HasMaxLength(20);
        table.Property(d => d.Sha256).HasMaxLength(StepPhotograph.Sha256Length);
        table.HasOne<PumpModel>().WithMany().HasForeignKey(d => d.ModelId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Pump>().WithMany().HasForeignKey(d => d.PumpId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(d => d.AddedById).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class DocumentRemovalMapping : IEntityTypeConfiguration<DocumentRemoval>
{
    public void Configure(EntityTypeBuilder<DocumentRemoval> table)
    {
        table.ToTable("document_removal");
        table.HasIndex(r => r.DocumentId).IsUnique();
        table.HasOne<Document>().WithOne().HasForeignKey<DocumentRemoval>(r => r.DocumentId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Person>().WithMany().HasForeignKey(r => r.PersonId).OnDelete(DeleteBehavior.Restrict);
    }
}
