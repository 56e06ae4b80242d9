using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace KitOrders.Storage.Procedures;

sealed class ProcedureMapping : IEntityTypeConfiguration<Procedure>
{
    public void Configure(EntityTypeBuilder<Procedure> table)
    {
        table.ToTable("procedure");
        table.Property(p => p.Id).UseIdentityByDefaultColumn();
        table.HasIndex(p => p.Code).IsUnique();
        table.HasMany(p => p.Revisions).WithOne().HasForeignKey(r => r.ProcedureId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class ProcedureRevisionMapping : IEntityTypeConfiguration<ProcedureRevision>
{
    public void Configure(EntityTypeBuilder<ProcedureRevision> table)
    {
        table.ToTable("procedure_revision");
        table.Property(r => r.Id).UseIdentityByDefaultColumn();
        table.HasIndex(r => new { r.ProcedureId, r.Number }).IsUnique();
        table.HasIndex(r => r.ProcedureId, "ix_procedure_revision_current").IsUnique().HasFilter("state = 'released'").HasDatabaseName("ix_procedure_revision_current");
        table.HasIndex(r => r.ProcedureId, "ix_procedure_revision_draft").IsUnique().HasFilter("state = 'draft'").HasDatabaseName("ix_procedure_revision_draft");
        table.Property(r => r.Version).IsConcurrencyToken();
        table.HasMany(r => r.Steps).WithOne().HasForeignKey(s => s.ProcedureRevisionId).OnDelete(DeleteBehavior.Cascade);
    }
}

sealed class ProcedureStepMapping : IEntityTypeConfiguration<ProcedureStep>
{
    public void Configure(EntityTypeBuilder<ProcedureStep> table)
    {
        table.ToTable("procedure_step");
        table.HasIndex(s => new { s.ProcedureRevisionId, s.Number }).IsUnique();
        table.HasOne<PumpModel>().WithMany().HasForeignKey(s => s.ModelId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Part>().WithMany().HasForeignKey(s => s.PartId).OnDelete(DeleteBehavior.Restrict);
        table.HasOne<Document>().WithMany().HasForeignKey(s => s.DocumentId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PictureFileMapping : IEntityTypeConfiguration<PictureFile>
{
    public void Configure(EntityTypeBuilder<PictureFile> table)
    {
        table.ToTable("picture_file", t => t.HasCheckConstraint("at_most_5_mb", "octet_length(content) between 1 and 5242880"));
        table.HasIndex(p => p.Sha256).IsUnique();
        table.Property(p => p.Sha256).HasMaxLength(StepPhotograph.Sha256Length);
        table.Property(p => p.ContentType).HasMaxLength(20);
        table.HasOne<Person>().WithMany().HasForeignKey(p => p.AddedById).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class JobMapping : IEntityTypeConfiguration<Job>
{
    public void Configure(EntityTypeBuilder<Job> table)
    {
        table.ToTable("job");
        table.Property(j => j.Id).UseIdentityByDefaultColumn();
        table.HasIndex(j => j.Code).IsUnique();
        table.HasOne<Procedure>().WithMany().HasForeignKey(j => j.ProcedureId).OnDelete(DeleteBehavior.Restrict);
        table.HasMany(j => j.Kits).WithOne().HasForeignKey(k => k.JobId).OnDelete(DeleteBehavior.Cascade);
    }
}

sealed class JobKitMapping : IEntityTypeConfiguration<JobKit>
{
    public void Configure(EntityTypeBuilder<JobKit> table)
    {
        table.ToTable("job_kit", t => t.HasCheckConstraint("quantity_above_zero", "quantity > 0"));
        table.HasKey(k => new { k.JobId, k.KitPartId });
        table.HasOne<Part>().WithMany().HasForeignKey(k => k.KitPartId).OnDelete(DeleteBehavior.Restrict);
    }
}
