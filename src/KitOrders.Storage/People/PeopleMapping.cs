using KitOrders.Rules.People;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace KitOrders.Storage.People;

sealed class PersonMapping : IEntityTypeConfiguration<Person>
{
    public void Configure(EntityTypeBuilder<Person> table)
    {
        table.ToTable("person");
        table.Property(p => p.Id).UseIdentityByDefaultColumn();
        table.Property(p => p.Name).HasMaxLength(Person.NameMaxLength);
        table.HasIndex(p => p.Name).IsUnique();
    }
}

sealed class CrewMapping : IEntityTypeConfiguration<Crew>
{
    public void Configure(EntityTypeBuilder<Crew> table)
    {
        table.ToTable("crew");
        table.HasIndex(c => c.Name).IsUnique();
    }
}

sealed class ToolMapping : IEntityTypeConfiguration<Tool>
{
    public void Configure(EntityTypeBuilder<Tool> table)
    {
        table.ToTable("tool");
        table.HasIndex(t => t.Code).IsUnique();
    }
}

sealed class ApiTokenMapping : IEntityTypeConfiguration<ApiToken>
{
    public void Configure(EntityTypeBuilder<ApiToken> table)
    {
        table.ToTable("api_token");
        table.HasIndex(t => t.Hash).IsUnique();
        table.HasOne<Person>().WithMany().HasForeignKey(t => t.PersonId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class SignInLinkMapping : IEntityTypeConfiguration<SignInLink>
{
    public void Configure(EntityTypeBuilder<SignInLink> table)
    {
        table.ToTable("sign_in_link");
        table.HasIndex(l => l.Hash).IsUnique();
        table.HasOne<Person>().WithMany().HasForeignKey(l => l.PersonId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class PlantSettingMapping : IEntityTypeConfiguration<PlantSetting>
{
    public void Configure(EntityTypeBuilder<PlantSetting> table)
    {
        table.ToTable("plant_setting");
        table.HasKey(s => s.Key);
    }
}

sealed class CommandMapping : IEntityTypeConfiguration<CommandRecord>
{
    public void Configure(EntityTypeBuilder<CommandRecord> table)
    {
        table.ToTable("command");
        table.HasKey(c => new { c.PersonId, c.Key });
        table.Property(c => c.Key).HasMaxLength(100);
        table.HasOne<Person>().WithMany().HasForeignKey(c => c.PersonId).OnDelete(DeleteBehavior.Restrict);
        table.HasIndex(c => c.At);
    }
}

sealed class AccountMapping : IEntityTypeConfiguration<Account>
{
    public void Configure(EntityTypeBuilder<Account> table)
    {
        table.ToTable("account");
        table.HasIndex(a => a.PersonId).IsUnique();
        table.HasOne<Person>().WithMany().HasForeignKey(a => a.PersonId).OnDelete(DeleteBehavior.Restrict);
    }
}

sealed class AccountClaimMapping : IEntityTypeConfiguration<IdentityUserClaim<int>>
{
    public void Configure(EntityTypeBuilder<IdentityUserClaim<int>> table) => table.ToTable("account_claim");
}

sealed class AccountLoginMapping : IEntityTypeConfiguration<IdentityUserLogin<int>>
{
    public void Configure(EntityTypeBuilder<IdentityUserLogin<int>> table) => table.ToTable("account_login");
}

sealed class AccountTokenMapping : IEntityTypeConfiguration<IdentityUserToken<int>>
{
    public void Configure(EntityTypeBuilder<IdentityUserToken<int>> table) => table.ToTable("account_token");
}
