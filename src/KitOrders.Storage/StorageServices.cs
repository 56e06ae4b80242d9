using KitOrders.Storage.People;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace KitOrders.Storage;

/// <summary>What the shell registers: a context a time from the factory, and the stores of the sign-in.</summary>
public static class StorageServices
{
    public static IServiceCollection AddKitOrdersStorage(this IServiceCollection services, string connectionString)
    {
        services.AddPooledDbContextFactory<KitOrdersDb>(options => DbSetup.Use(options, connectionString));
        services.AddScoped(s => s.GetRequiredService<IDbContextFactory<KitOrdersDb>>().CreateDbContext());
        return services;
    }

    public static IdentityBuilder AddKitOrdersAccounts(this IdentityBuilder identity) =>
        identity.AddEntityFrameworkStores<KitOrdersDb>();
}
