// @ts-check
// The bench: one order, one step at a time. Everything it shows it can show without network once the order was opened here.
import { Outbox } from "./outbox.js";
import { Sender } from "./sender.js";
import { Desk } from "./desk.js";
import { listen, paint } from "./layout.js";
import { keepForOffline } from "./offline.js";
import { h, show, whenUntouched } from "./dom.js";

const AWAY = 5 * 60_000;
const LOOK_AGAIN = 30_000;

const root = /** @type {HTMLElement} */ (document.getElementById("bench"));
const status = /** @type {HTMLElement} */ (document.getElementById("line"));

async function begin() {
  const outbox = await Outbox.open();
  /** @type {Desk} */
  let desk;
  let heading = "";
  const draw = () => {
    paint(desk, root, status);
    // A new step is read out and starts at its top; typing on the same one moves nothing.
    const h1 = root.querySelector("h1");
    if (h1 && heading && h1.textContent !== heading) { h1.focus({ preventScroll: true }); scrollTo(0, 0); }
    heading = h1?.textContent ?? "";
  };
  const sender = new Sender(outbox, () => void desk.reread());
  desk = new Desk({ number: root.dataset.order ?? "", me: root.dataset.person ?? "", people: JSON.parse(root.dataset.people ?? "[]"), outbox, sender, paint: () => whenUntouched(draw) });
  outbox.channel?.addEventListener("message", () => void desk.reread());
  listen(root);
  await desk.load();
  void sender.start();
  void keepForOffline();
  void navigator.storage?.persist?.();
  let hidden = 0;
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") { hidden = Date.now(); return; }
    if (hidden && Date.now() - hidden > AWAY && desk.order) desk.comeBack();
    void desk.refresh();
  });
  // Somebody else may release, accept or record; the page asks quietly while it is looked at.
  setInterval(() => { if (document.visibilityState === "visible" && !desk.busy && (sender.line === "good" || !desk.order)) void desk.refresh(); }, LOOK_AGAIN);
}

begin().catch(error => {
  console.error(error);
  show(root, [h("div", { class: "say" }, h("section", { class: "bsay" }, h("h1", {}, "This tablet cannot keep results"),
    h("p", {}, "The browser gives the page no storage, so that a result could be lost on the way. Nothing can be recorded here. Leave private browsing, or take another tablet.")))]);
});
