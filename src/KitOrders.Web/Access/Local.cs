using System.Diagnostics.CodeAnalysis;

namespace KitOrders.Web.Access;

/// <summary>An address to go back to is taken only when it leads to a page of ours.</summary>
static class Local
{
    // Browsers drop tabs and line ends from an address, so "/" + tab + "/elsewhere" would lead away.
    public static bool IsOurs([NotNullWhen(true)] string? path) =>
        path is ['/'] or ['/', not '/' and not '\\', ..] && !path.Any(char.IsControl);

    public static string OrToday(string? path) => IsOurs(path) ? path : "/";
}
