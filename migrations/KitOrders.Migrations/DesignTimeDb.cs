using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace KitOrders.Migrations;

/// <summary>Lets the migration tools build the model without a host and without a database.</summary>
sealed class DesignTimeDb : IDesignTimeDbContextFactory<KitOrdersDb>
{
    public KitOrdersDb CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<KitOrdersDb>();
        DbSetup.Use(options, "Host=none;Database=none");
        return new KitOrdersDb(options.Options);
    }
}
