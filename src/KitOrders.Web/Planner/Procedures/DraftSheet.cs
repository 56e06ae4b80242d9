using System.Globalization;
using KitOrders.Rules;
using KitOrders.Rules.Procedures;

namespace KitOrders.Web.Planner.Procedures;

/// <summary>The steps of a draft on the editor's page: where each stands, which is open, and what has been done to them since they were kept.</summary>
public sealed class DraftSheet
{
    readonly List<StepFields> steps;

    public DraftSheet(IEnumerable<StepDraft> kept)
    {
        steps = [.. kept.OrderBy(s => s.PartOf).Select(StepFields.Of)];
        Look();
    }

    public IReadOnlyList<StepFields> Steps => steps;

    /// <summary>The step whose fields are open.</summary>
    public StepFields? Open { get; private set; }

    /// <summary>Something differs from what was kept.</summary>
    public bool Changed { get; private set; }

    /// <summary>What stands against a release, of the steps as they are typed now.</summary>
    public IReadOnlyList<ReleaseFinding> Findings { get; private set; } = [];

    /// <summary>What was done last, for those who hear the page.</summary>
    public string? Told { get; private set; }

    /// <summary>The step that was taken out last and can be put back.</summary>
    public (StepFields Step, int At)? Removed { get; private set; }

    public IEnumerable<StepFields> Wrong => steps.Where(s => s.IsWrong);

    public int NumberOf(StepFields step) => steps.IndexOf(step) + 1;

    public IReadOnlyList<StepDraft> Read() => [.. steps.Select(s => s.Read())];

    public void Choose(StepFields? step) => Open = step;

    /// <summary>Something was typed into the open step.</summary>
    public void Typed(StepFields step)
    {
        step.Touched();
        Told = null;
        Mark();
    }

    public void Kept()
    {
        (Changed, Removed) = (false, null);
        Told = "The draft is kept.";
    }

    public bool MayGoUp(StepFields step) => StepPlaces.Up(Parts, steps.IndexOf(step)) is not null;

    public bool MayGoDown(StepFields step) => StepPlaces.Down(Parts, steps.IndexOf(step)) is not null;

    public void Up(StepFields step) => Move(step, StepPlaces.Up(Parts, steps.IndexOf(step)));

    public void Down(StepFields step) => Move(step, StepPlaces.Down(Parts, steps.IndexOf(step)));

    public void DropOn(StepFields step, StepFields target) => Move(step, step == target ? null : StepPlaces.Onto(Parts, steps.IndexOf(target)));

    public void DropFirst(StepFields step, PartOf part) => Move(step, StepPlaces.First(Parts, steps.IndexOf(step), part));

    public void DropLast(StepFields step, PartOf part) => Move(step, StepPlaces.Last(Parts, steps.IndexOf(step), part));

    public void Add(PartOf part)
    {
        var step = new StepFields { PartOf = part };
        steps.Insert(steps.Count(s => s.PartOf <= part), step);
        Open = step;
        Say($"A new step {NumberOf(step)} is open in {Named(part)}.");
    }

    public void Copy(StepFields of) => Copied(of, of.Model, $"Step {NumberOf(of)} was copied to step {NumberOf(of) + 1}.");

    /// <summary>The same joint with values of its own for another model.</summary>
    public void CopyFor(StepFields of, string model) => Copied(of, model, $"Step {NumberOf(of) + 1} is the same joint for {model}. Give its values.");

    public void Remove(StepFields step)
    {
        var at = steps.IndexOf(step);
        Removed = (step, at);
        steps.RemoveAt(at);
        if (Open == step)
            Open = null;
        Say($"Step {at + 1} was taken out.");
    }

    public void PutBack()
    {
        if (Removed is not var (step, at))
            return;
        // Others may have moved meanwhile: back into its own part, as near to its old place as there is one.
        var first = steps.Count(s => s.PartOf < step.PartOf);
        steps.Insert(Math.Clamp(at, first, first + steps.Count(s => s.PartOf == step.PartOf)), step);
        Removed = null;
        Say($"Step {NumberOf(step)} is back.");
    }

    /// <summary>Torque steps of the same joint, this one among them, for the models side by side.</summary>
    public IReadOnlyList<StepFields> SameJoint(StepFields step) => step.Joint.Trim().Length == 0 ? [step]
        : [.. steps.Where(s => s.HasJoint && string.Equals(s.Joint.Trim(), step.Joint.Trim(), StringComparison.OrdinalIgnoreCase))];

    /// <summary>Puts the sentences of a refusal at their fields and opens the first step that has one.</summary>
    public void Refuse(Refusal refusal)
    {
        foreach (var (where, sentences) in refusal.Errors)
            if (where.StartsWith("steps[", StringComparison.Ordinal) && where.IndexOf("].", StringComparison.Ordinal) is > 0 and var end
                && int.TryParse(where["steps[".Length..end], out var at) && at < steps.Count)
                steps[at].Refuse(where[(end + 2)..], string.Join(" ", sentences));
        Open = Wrong.FirstOrDefault() ?? Open;
    }

    void Copied(StepFields of, string? model, string said)
    {
        var copy = StepFields.Of(of.Read() with { Model = model });
        (copy.Bolts, copy.Passes, copy.Target, copy.Low, copy.High, copy.TolerancePct, copy.Minutes) = (of.Bolts, of.Passes, of.Target, of.Low, of.High, of.TolerancePct, of.Minutes);
        steps.Insert(steps.IndexOf(of) + 1, copy);
        Open = copy;
        Say(said);
    }

    void Move(StepFields step, StepPlace? to)
    {
        if (to is not { } place)
            return;
        var from = NumberOf(step);
        steps.Remove(step);
        steps.Insert(place.At, step);
        step.PartOf = place.PartOf;
        Say($"Step {from} is now step {NumberOf(step)} of {steps.Count}, {Named(place.PartOf)}.");
    }

    void Say(string told)
    {
        Told = told;
        Mark();
    }

    void Mark()
    {
        Changed = true;
        Look();
    }

    void Look()
    {
        var read = Read();
        Findings =
        [
            .. Wrong.Select(s => new ReleaseFinding("step-unreadable", NumberOf(s).ToString(CultureInfo.InvariantCulture), $"Step {NumberOf(s)} holds something that cannot be kept; it is said at the field.")),
            .. StepDraft.Findings(read),
        ];
    }

    List<PartOf> Parts => steps.ConvertAll(s => s.PartOf);

    static string Named(PartOf part) => StepWords.Of(part).ToLowerInvariant();
}
