namespace KitOrders.Web.Api;

/// <summary>A number or tag in a path: an encoded slash stays encoded there, so it is made one with a plain one here.</summary>
static class PathName
{
    public static string Of(string written) => written.Replace("%2F", "/", StringComparison.OrdinalIgnoreCase);
}
