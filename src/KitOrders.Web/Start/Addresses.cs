using System.Net;
using System.Net.Sockets;
using KitOrders.Rules;

namespace KitOrders.Web.Start;

/// <summary>The addresses to listen on.</summary>
static class Addresses
{
    public const string Usual = "http://localhost:5080";

    /// <summary>The command line decides, then the configuration (ASPNETCORE_URLS, ASPNETCORE_HTTP_PORTS), then the usual one.</summary>
    public static string Choose(Arguments arguments, IConfiguration configuration) =>
        arguments.Urls ?? (NotEmpty(configuration["urls"]) ?? FromPorts(configuration["http_ports"]) ?? Usual);

    /// <summary>
    /// Refused before the database is touched when an address cannot be understood or another program has its port.
    /// </summary>
    public static Refusal? CheckFree(string urls)
    {
        foreach (var url in urls.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            BindingAddress address;
            try
            {
                address = BindingAddress.Parse(url);
            }
            catch (FormatException)
            {
                return Refusal.Invalid("address", $"\"{url}\" is not an address to listen on. Write it like {Usual}.");
            }

            if (!address.IsUnixPipe && !address.IsNamedPipe && address.Port != 0 && IsTaken(address))
            {
                return Taken(url);
            }
        }

        return null;
    }

    public static Refusal Taken(string urls) => Refusal.Conflict("port-taken",
        $"Another program of this machine already listens on {urls}. Stop it, or choose another port with --port, for example --port 5081.");

    static bool IsTaken(BindingAddress address)
    {
        var ip = IPAddress.TryParse(address.Host.Trim('[', ']'), out var given) ? given
            : address.Host == "localhost" ? IPAddress.Loopback
            : IPAddress.Any;
        try
        {
            using var probe = new TcpListener(ip, address.Port);
            probe.Start();
            return false;
        }
        catch (SocketException e)
        {
            return e.SocketErrorCode == SocketError.AddressAlreadyInUse;
        }
    }

    static string? FromPorts(string? ports) =>
        NotEmpty(ports) is { } some ? string.Join(';', some.Split(';', StringSplitOptions.RemoveEmptyEntries).Select(p => $"http://*:{p}")) : null;

    static string? NotEmpty(string? text) => string.IsNullOrWhiteSpace(text) ? null : text;
}
