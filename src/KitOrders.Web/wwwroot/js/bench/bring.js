// @ts-check
// What to bring to the pump: the picked kit, the tools its steps name.
import { h } from "./dom.js";
import { figure } from "./figures.js";

/** @param {import("./order.js").Order} order */
export function bring(order) {
  const parts = order.demand.filter(d => d.picked > 0 || d.reserved > 0);
  const tools = [...new Set(order.steps.map(s => s.tool).filter(Boolean))];
  return h("div", { class: "bring" },
    parts.length > 0 && h("table", { class: "t" },
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Part"), h("th", { scope: "col" }, "What it is"), h("th", { scope: "col", class: "n" }, "Picked"))),
      h("tbody", {}, parts.map(d => h("tr", {}, h("td", { class: "nw" }, d.part), h("td", {}, d.description, d.spare && h("span", { class: "q" }, ", spare"),
        (d.inPlaceOf ?? []).map(o => h("span", { class: "q" }, `, in place of ${o.part}`))),
        h("td", { class: "n nw" }, d.picked > 0 ? `${figure(d.picked)} ${d.unit === "each" ? "" : d.unit}`.trim() : h("span", { class: "q" }, "not yet")))))),
    tools.length > 0 && h("p", {}, h("span", { class: "q" }, "Tools: "), tools.join(", ")));
}
