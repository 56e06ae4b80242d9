using Microsoft.Playwright;

namespace KitOrders.Journeys;

/// <summary>What a program can find to be in the way of people, by the rules of WCAG 2.2 A and AA that axe knows.</summary>
/// <param name="Passes">How many rules found something to look at and nothing against it.</param>
/// <param name="Violations">What breaks a rule, in words.</param>
sealed record Axe(int Passes, string[] Violations)
{
    static readonly Lazy<string> engine = new(() => new Deque.AxeCore.Commons.BundledAxeScriptProvider().GetScript());

    /// <param name="colours">Only what another scheme of colours can change.</param>
    public static async Task<Axe> Look(IPage page, bool colours = false)
    {
        if (!await page.EvaluateAsync<bool>("() => 'axe' in window"))
            await page.EvaluateAsync(engine.Value);
        var found = await page.EvaluateAsync<Found>(
            """
            async colours => {
              const short = text => text.length > 260 ? text.slice(0, 260) + "…" : text;
              const runOnly = colours ? { type: "rule", values: ["color-contrast"] } : { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] };
              // Every rule runs; for those that passed the places are not described.
              const result = await axe.run(document, { runOnly, resultTypes: ["violations"] });
              return {
                passes: result.passes.length,
                violations: result.violations.flatMap(v => v.nodes.slice(0, 4).map(n => `${v.id}: ${short(n.html)} ${short([...n.any, ...n.all, ...n.none].map(c => c.message).join(" "))}`)),
              };
            }
            """, colours);
        return new Axe(found.Passes, found.Violations);
    }

    sealed class Found
    {
        public int Passes { get; set; }

        public string[] Violations { get; set; } = [];
    }
}
