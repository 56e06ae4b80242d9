using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace KitOrders.Web.Api;

/// <summary>
/// What a call does and takes, for the description at /openapi/v1.json and /docs/api. The body's type is told in words of our
/// own, because the framework's own would also refuse bodies sent without a content type.
/// </summary>
static class Described
{
    sealed record Body(Type Type);

    public static RouteHandlerBuilder Does<TBody, TAnswer>(this RouteHandlerBuilder call, string what, int status = StatusCodes.Status200OK) =>
        call.WithSummary(what).WithMetadata(new Body(typeof(TBody))).Produces<TAnswer>(status);

    public static RouteHandlerBuilder Does<TAnswer>(this RouteHandlerBuilder call, string what) => call.WithSummary(what).Produces<TAnswer>();

    public static void AddDescription(this IServiceCollection services) => services.AddOpenApi("v1", options =>
    {
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info.Title = "KitOrders";
            document.Info.Description = "The same operations as the screens. Every write takes an Idempotency-Key; errors are problem details with a stable code.";
            document.Servers = [];
            return Task.CompletedTask;
        });
        options.AddOperationTransformer(async (operation, context, ct) =>
        {
            if (context.Description.ActionDescriptor.EndpointMetadata.OfType<Body>().FirstOrDefault() is not { } body)
                return;
            operation.RequestBody = new OpenApiRequestBody
            {
                Content = new Dictionary<string, OpenApiMediaType>
                {
                    ["application/json"] = new() { Schema = await context.GetOrCreateSchemaAsync(body.Type, cancellationToken: ct) },
                },
            };
            operation.Parameters = [.. operation.Parameters ?? [], new OpenApiParameter
            {
                Name = "Idempotency-Key", In = ParameterLocation.Header, Required = true, Description = "A name of your own for this one command, at most 100 characters.",
                Schema = new OpenApiSchema { Type = JsonSchemaType.String },
            }];
        });
    });
}
