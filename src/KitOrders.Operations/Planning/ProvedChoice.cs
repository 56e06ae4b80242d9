using Google.OrTools.LinearSolver;
using KitOrders.Rules.Planning;

namespace KitOrders.Operations.Planning;

/// <summary>Chooses by mixed-integer programming (SCIP), which proves how good its choice is, within a limit of time.</summary>
static class ProvedChoice
{
    public static ExactChoice Of(ChoiceProblem problem, TimeSpan most)
    {
        using var solver = Solver.CreateSolver("SCIP") ?? throw new InvalidOperationException("The solver SCIP is not in the program.");
        solver.SetTimeLimit((long)most.TotalMilliseconds);
        var orders = problem.Scores.Select((_, i) => solver.MakeBoolVar($"o{i}")).ToArray();
        foreach (var limit in problem.Limits)
        {
            using var kept = solver.MakeConstraint(double.NegativeInfinity, (double)limit.Most);
            foreach (var (order, weight) in limit.Terms)
                kept.SetCoefficient(orders[order], (double)weight);
        }
        using var score = solver.Objective();
        for (var i = 0; i < orders.Length; i++)
            score.SetCoefficient(orders[i], problem.Scores[i]);
        score.SetMaximization();
        using var exact = new MPSolverParameters();
        // Its own default ends within a share of the optimum and calls that optimal.
        exact.SetDoubleParam(MPSolverParameters.DoubleParam.RELATIVE_MIP_GAP, 0);
        return solver.Solve(exact) switch
        {
            Solver.ResultStatus.OPTIMAL or Solver.ResultStatus.FEASIBLE => new ExactChoice([.. orders.Select(o => o.SolutionValue() > 0.5)], score.BestBound()),
            _ => new ExactChoice(null, double.PositiveInfinity),
        };
    }
}
