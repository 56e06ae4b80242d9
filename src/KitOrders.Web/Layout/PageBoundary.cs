using System.Security.Cryptography;
using KitOrders.Web.Shared;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace KitOrders.Web.Layout;

/// <summary>
/// Catches what no page foresaw, writes it to the log under a number and shows that number to the person, so that the
/// two can be brought together. The circuit lives on; going to another page clears it.
/// </summary>
public sealed class PageBoundary : ErrorBoundaryBase
{
    [Inject] ILogger<PageBoundary> Log { get; set; } = default!;

    string number = "";

    protected override Task OnErrorAsync(Exception exception)
    {
        number = RandomNumberGenerator.GetString("ABCDEFGHJKLMNPQRSTUVWXYZ23456789", 6);
        Log.LogError(exception, "A page failed; the person was shown number {Number}", number);
        return Task.CompletedTask;
    }

    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        if (CurrentException is null)
        {
            builder.AddContent(0, ChildContent);
            return;
        }

        builder.OpenComponent<FailedPage>(1);
        builder.AddComponentParameter(2, nameof(FailedPage.Number), number);
        builder.AddComponentParameter(3, nameof(FailedPage.Again), EventCallback.Factory.Create(this, Recover));
        builder.CloseComponent();
    }
}
