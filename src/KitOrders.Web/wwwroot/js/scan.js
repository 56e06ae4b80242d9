// A scanner types like a keyboard, only faster, and ends with Enter. Whole scans and single keys are told apart by time, and
// each is one message to the page.

const fastest = 60; // ms between two characters of a scan; people do not type that fast
const typing = target => target instanceof HTMLElement && /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName);

let page = null, text = "", last = 0, waiting = 0, sound = null;

function onKey(event) {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing || document.querySelector("dialog[open]")) return;
  if (event.key === "Escape") { reset(); page?.invokeMethodAsync("Pressed", "Escape"); return; }
  if (typing(event.target)) return;
  const now = performance.now();
  if (event.key === "Enter") {
    // A lone Enter presses what has the focus; the end of a scan does not.
    if (text.length > 1) { event.preventDefault(); const whole = text; reset(); page?.invokeMethodAsync("Scanned", whole); }
    return;
  }
  if (event.key.length !== 1) return;
  if (now - last > fastest) text = "";
  text += event.key;
  last = now;
  event.preventDefault();
  clearTimeout(waiting);
  waiting = setTimeout(() => {
    const one = text;
    if (one.length === 1) { text = ""; press(one); }
  }, fastest * 2);
}

function press(key) {
  if (key === "?") document.getElementById("keys")?.showModal();
  else if (key === "/") document.querySelector(".top input[name=q]")?.focus();
  else page?.invokeMethodAsync("Pressed", key.toLowerCase());
}

function reset() { text = ""; clearTimeout(waiting); }

export function listen(dotnet) {
  page = dotnet;
  document.addEventListener("keydown", onKey, true);
  document.documentElement.dataset.scanner = "heard";
}

export function stop() {
  page = null;
  delete document.documentElement.dataset.scanner;
  document.removeEventListener("keydown", onKey, true);
}

// The scanner's own beep says that it read; this says whether it was right. One high tone, or two low ones and a shake.
export function answer(accepted) {
  try { navigator.vibrate?.(accepted ? 40 : [120, 80, 120]); } catch { /* not every window may shake */ }
  try {
    sound ??= new AudioContext();
    for (const at of accepted ? [0] : [0, .18]) {
      const tone = sound.createOscillator(), volume = sound.createGain();
      tone.frequency.value = accepted ? 1320 : 220;
      tone.type = accepted ? "sine" : "square";
      volume.gain.value = .15;
      tone.connect(volume).connect(sound.destination);
      tone.start(sound.currentTime + at);
      tone.stop(sound.currentTime + at + .12);
    }
  } catch { /* no sound here; words and shape say it */ }
}

// What is asked for gets the focus, so that the run works by keyboard alone.
export function first(selector) { document.querySelector(`${selector} input, ${selector} select`)?.focus(); }

// In forms a scan ends with Enter: the next empty field takes over, and only the last one sends.
export function fields(form) {
  form.addEventListener("keydown", event => {
    if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
    const next = [...form.querySelectorAll("input, select")].find(f => f !== event.target && !f.value && f.dataset.needed !== undefined);
    if (!next) return;
    event.preventDefault();
    event.target.dispatchEvent(new Event("change", { bubbles: true }));
    next.focus();
  });
  begin(form);
}

// The next label goes into the first field again.
export function begin(form) { form.querySelector("input")?.focus(); }
