using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace KitOrders.Web.Start;

/// <summary>What every start of the web host needs, whatever it serves.</summary>
static class Hosting
{
    /// <summary>Content stands beside the program, so that it runs from any folder, built or published.</summary>
    public static WebApplicationBuilder Builder()
    {
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(Hosting).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.WebHost.UseStaticWebAssets();
        // A browser that reconnects while the app stops would otherwise hold the stop for half a minute.
        builder.Services.Configure<HostOptions>(o => o.ShutdownTimeout = TimeSpan.FromSeconds(5));
        return builder;
    }

    /// <summary>Sign-ins, open forms and pages outlive a restart of the app.</summary>
    public static void AddKeys(this WebApplicationBuilder builder, string dataFolder)
    {
        var keys = new DirectoryInfo(Path.Combine(dataFolder, "keys"));
        if (!keys.Exists)
        {
            Directory.CreateDirectory(keys.FullName, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        }

        builder.Services.AddDataProtection().SetApplicationName("KitOrders").PersistKeysToFileSystem(keys);
    }

    /// <summary>The address to tell people: with the real port, and a name they can type.</summary>
    public static string Address(this WebApplication app)
    {
        var listening = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()?.Addresses.FirstOrDefault();
        return listening is null ? Addresses.Usual : listening
            .Replace("//[::]", "//localhost", StringComparison.Ordinal)
            .Replace("//0.0.0.0", "//localhost", StringComparison.Ordinal)
            .Replace("//*", "//localhost", StringComparison.Ordinal)
            .Replace("//+", "//localhost", StringComparison.Ordinal);
    }
}
