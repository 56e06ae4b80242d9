using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Web.Api;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>The matrix as a file: a row for every pump and kit that the address asks for, with every check and the first reason.</summary>
static class MatrixFile
{
    static readonly Check[] checks = Enum.GetValues<Check>();

    public static async Task<IResult> Get(SuitabilityMatrix matrix, HttpContext http, CancellationToken ct)
    {
        var query = MatrixQuery.Of(http.Request.QueryString.Value);
        var found = await matrix.Find(query.Filter, ct);
        return found.Refusal is { } refusal ? Problem.Of(refusal)
            : Csv.File("suitability.csv", [.. "pump serial model control area zone fluid kit revision on result reason".Split(' '), .. checks.Select(Word.Of)], Rows(found.Value, query));
    }

    public static IEnumerable<IReadOnlyList<object?>> Rows(MatrixView view, MatrixQuery query)
    {
        foreach (var row in view.Rows(query.Result, query.Check))
        {
            var pump = view.Pumps[row];
            for (var kit = 0; kit < view.Kits.Count; kit++)
            {
                var cell = view.Cell(row, kit);
                yield return [pump.Tag, pump.Serial, pump.Model, pump.Control is { } control ? Word.Of(control) : null, pump.Area, pump.Zone is { } zone ? Word.Of(zone) : null, pump.Fluid,
                    view.Kits[kit].Kit, view.Kits[kit].Revision, view.On, Word.Of(cell.Result), view.Reason(row, kit), .. checks.Select(c => Word.Of(cell.Of(c)))];
            }
        }
    }
}
