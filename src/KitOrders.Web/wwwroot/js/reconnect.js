// Speaks when the line to the server is gone. The framework sets a class on the dialog and raises the event; the words
// for each class are in the markup.

const sheet = document.getElementById("components-reconnect-modal");
const wait = ms => new Promise(done => setTimeout(done, ms));

async function answers() {
  try {
    return (await fetch("/health/live", { cache: "no-store" })).ok;
  } catch {
    return false;
  }
}

// Goes on where it was if the server still knows the page, with a fresh page if it does not.
async function goOn() {
  try {
    if (await Blazor.reconnect() || await Blazor.resumeCircuit()) sheet.close();
    else location.reload();
  } catch {
    document.addEventListener("visibilitychange", whenSeen);
  }
}

function whenSeen() {
  if (document.visibilityState !== "visible") return;
  document.removeEventListener("visibilitychange", whenSeen);
  goOn();
}

// The server said it pauses (it is being restarted): wait for it and resume without being asked.
async function resume() {
  for (let i = 0; i < 120; i++, await wait(1000)) {
    if (!await answers()) continue;
    try {
      if (await Blazor.resumeCircuit()) sheet.close();
      else location.reload();
    } catch {
      location.reload();
    }
    return;
  }
}

sheet?.addEventListener("components-reconnect-state-changed", event => {
  const state = event.detail.state;
  if (state === "show" && !sheet.open) sheet.showModal();
  if (state === "hide") sheet.close();
  if (state === "failed") document.addEventListener("visibilitychange", whenSeen);
  if (state === "rejected") location.reload();
  if (state === "paused") { if (!sheet.open) sheet.showModal(); resume(); }
});
sheet?.querySelector("[data-does=retry]")?.addEventListener("click", goOn);
for (const button of sheet?.querySelectorAll("[data-does=reload]") ?? [])
  button.addEventListener("click", () => location.reload());
