namespace KitOrders.Web.Shared;

/// <summary>
/// The places of an air-operated double-diaphragm pump, front view, in drawing order (later ones lie on top), in a
/// square of 240 by 212. The spot is where a balloon's lead ends; the balloon is where its number stands.
/// </summary>
public static class PumpPlaces
{
    public sealed record Place(string Id, string Svg, (double X, double Y) Spot, (double X, double Y) Balloon);

    public static readonly IReadOnlyList<Place> All =
    [
        new("manifold-bottom", """<path class="b" d="M24 152v20a17 17 0 0 0 17 17h158a17 17 0 0 0 17-17v-20h-24v10a6 6 0 0 1-6 6H54a6 6 0 0 1-6-6v-10z"/><path class="b" d="M107 168h26v21h-26z"/><path class="b" d="M103 186h34v6h-34z"/>""", (90, 179), (78, 204)),
        new("feet", """<path class="b" d="M30 187h26l6 15H24zM184 187h26l6 15h-38z"/><path d="M16 202h54M170 202h54"/>""", (45, 195), (9, 184)),
        new("manifold-top", """<path class="b" d="M24 58V38a17 17 0 0 1 17-17h158a17 17 0 0 1 17 17v20h-24V48a6 6 0 0 0-6-6H54a6 6 0 0 0-6 6v10z"/><path class="b" d="M107 16h26v26h-26z"/><path class="b" d="M103 11h34v6h-34z"/>""", (80, 31), (66, 10)),
        new("fluid-chamber-left", """<path class="b" d="M66 62H20v12C12 82 8 92 8 105s4 23 12 31v12h46z"/><path class="thin" d="M56 74c-20 3-32 15-32 31s12 28 32 31"/>""", (22, 110), (10, 136)),
        new("fluid-chamber-right", """<path class="b" d="M174 62h46v12c8 8 12 18 12 31s-4 23-12 31v12h-46z"/><path class="thin" d="M184 74c20 3 32 15 32 31s-12 28-32 31"/>""", (218, 110), (230, 136)),
        new("seats", """<path class="b" d="M20 56h32v6H20zM188 56h32v6h-32zM20 148h32v6H20zM188 148h32v6h-32z"/>""", (40, 151), (52, 128)),
        new("balls", """<circle class="b thin" cx="36" cy="47" r="6.5"/><circle class="b thin" cx="204" cy="47" r="6.5"/><circle class="b thin" cx="36" cy="163" r="6.5"/><circle class="b thin" cx="204" cy="163" r="6.5"/>""", (36, 163), (10, 166)),
        new("air-chamber-left", """<path class="b" d="M74 64h6c8 3 14 12 18 20v42c-4 8-10 17-18 20h-6z"/>""", (80, 66), (66, 50)),
        new("air-chamber-right", """<path class="b" d="M166 64h-6c-8 3-14 12-18 20v42c4 8 10 17 18 20h6z"/>""", (156, 84), (176, 40)),
        new("diaphragm-left", """<path class="b" d="M66 58h8v94h-8z"/><path class="thin" d="M64 68h12M64 86h12M64 124h12M64 142h12"/>""", (70, 70), (49, 28)),
        new("diaphragm-right", """<path class="b" d="M166 58h8v94h-8z"/><path class="thin" d="M164 68h12M164 86h12M164 124h12M164 142h12"/>""", (170, 70), (191, 28)),
        new("rod", """<path class="p axis" d="M2 105h236"/>""", (52, 105), (52, 91)),
        new("centre-section", """<path class="b" d="M98 80h44v52H98z"/>""", (104, 130), (106, 163)),
        new("stroke-sensor-port", """<path class="b" d="M115 71h10v9h-10z"/><path class="b" d="M112.5 62h15v9h-15z"/><path class="thin" d="M112.5 66.5h15"/>""", (120, 70), (120, 50)),
        new("air-valve", """<path class="b" d="M95 86h50v20H95z"/><path class="thin" d="M102 86v20M138 86v20"/>""", (104, 86), (88, 58)),
        new("coil", """<path class="b" d="M145 89h11v14h-11z"/><path class="thin" d="M148.5 89v14M152.5 89v14"/>""", (151, 89), (151, 57)),
        new("air-inlet", """<circle class="b" cx="104.5" cy="119" r="4.2"/>""", (104, 119), (84, 150)),
        new("muffler", """<path class="b" d="M113 110h14v5h-14z"/><path class="b" d="M111 115h18v25a5 5 0 0 1-5 5h-8a5 5 0 0 1-5-5z"/><path class="thin" d="M111 121.5h18M111 127.5h18M111 133.5h18"/>""", (127, 137), (146, 160)),
        new("leak-port-left", """<circle class="b" cx="81.5" cy="131" r="4.8"/><circle class="thin" cx="81.5" cy="131" r="1.6"/>""", (82, 131), (66, 160)),
        new("leak-port-right", """<circle class="b" cx="158.5" cy="131" r="4.8"/><circle class="thin" cx="158.5" cy="131" r="1.6"/>""", (158, 131), (176, 160)),
    ];

    /// <summary>The places a word names: one by its id, both sides by the part before "-left" and "-right". None if no such place.</summary>
    public static IReadOnlyList<string> Named(string word) =>
        [.. All.Where(p => p.Id == word || p.Id == word + "-left" || p.Id == word + "-right").Select(p => p.Id)];
}
