// @ts-check
// What a step shows and cites beside its words. Both live on the server: without network the caption is read instead.
import { h } from "./dom.js";

/** Pictures that could not be loaded; asked for again when the network is back. @type {Set<string>} */
const unseen = new Set();
addEventListener("online", () => unseen.clear());

/** @param {import("./order.js").Step} step @param {() => void} paint */
export const pictures = (step, paint) => (step.pictures ?? []).map(({ sha256, caption }) => {
  const address = `/files/pictures/${sha256}`;
  const failed = () => { if (!unseen.has(sha256)) { unseen.add(sha256); paint(); } };
  return h("figure", { class: "pic" },
    !unseen.has(sha256) && h("a", { href: address, target: "_blank", rel: "noopener" }, h("img", { src: address, alt: caption, onerror: failed })),
    h("figcaption", {}, unseen.has(sha256) ? `Picture, not seen without network: ${caption}` : caption));
});

/** The document, edition and page; a link where the document is on record. @param {import("./order.js").Step} step */
export function cited(step) {
  const words = [step.document, step.edition && `edition ${step.edition}`, step.page && `page ${step.page}`].filter(Boolean).join(", ");
  const page = /^\d+$/.test(step.page ?? "") ? `#page=${step.page}` : "";
  return words && step.documentId != null ? h("a", { href: `/files/documents/${step.documentId}${page}`, target: "_blank", rel: "noopener" }, words) : words;
}
