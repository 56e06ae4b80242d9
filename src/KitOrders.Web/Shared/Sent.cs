using Microsoft.AspNetCore.Components.Forms;

namespace KitOrders.Web.Shared;

/// <summary>Reads a file that a person chose on a page.</summary>
public static class Sent
{
    /// <summary>Its bytes; of a file above the limit one byte more than that, which is enough for a rule to refuse it.</summary>
    public static async Task<byte[]> Read(IBrowserFile file, int most)
    {
        if (file.Size > most)
            return new byte[most + 1];
        await using var stream = file.OpenReadStream(most);
        using var content = new MemoryStream();
        await stream.CopyToAsync(content);
        return content.ToArray();
    }
}
