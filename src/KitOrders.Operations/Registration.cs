using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace KitOrders.Operations;

public static class Registration
{
    /// <summary>
    /// Registers the desk and every operation. An operation is a public class of this assembly whose one constructor takes
    /// the desk, so that adding a file is all it takes to add one.
    /// </summary>
    public static IServiceCollection AddOperations(this IServiceCollection services)
    {
        services.AddSingleton(s => new Desk(s.GetRequiredService<IDbContextFactory<KitOrdersDb>>(), s.GetRequiredService<TimeProvider>()));
        foreach (var operation in Operations)
            services.AddSingleton(operation);
        services.AddSingleton<Changes>();
        services.AddHostedService(s => s.GetRequiredService<Changes>());
        return services;
    }

    internal static IEnumerable<Type> Operations => typeof(Registration).Assembly.GetExportedTypes()
        .Where(t => t is { IsClass: true, IsAbstract: false } && t.GetConstructors() is [var one]
            && one.GetParameters().Any(p => p.ParameterType == typeof(Desk)));
}
