using KitOrders.Rules;

namespace KitOrders.Web.Api;

/// <summary>A refusal as problem details (RFC 9457) with the stable code and, where fields are at fault, the sentences by field.</summary>
static class Problem
{
    public static IResult Of(Refusal refusal) => Results.Problem(
        detail: refusal.Sentence,
        statusCode: StatusOf(refusal.Kind),
        extensions: refusal.Errors.Count == 0
            ? new Dictionary<string, object?> { ["code"] = refusal.Code }
            : new Dictionary<string, object?> { ["code"] = refusal.Code, ["errors"] = refusal.Errors });

    public static int StatusOf(RefusalKind kind) => kind switch
    {
        RefusalKind.NotFound => StatusCodes.Status404NotFound,
        RefusalKind.NotAllowed => StatusCodes.Status403Forbidden,
        RefusalKind.Conflict => StatusCodes.Status409Conflict,
        _ => StatusCodes.Status422UnprocessableEntity,
    };
}
