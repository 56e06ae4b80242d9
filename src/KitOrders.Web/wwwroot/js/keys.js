// Keys of every page: "/" to the jump line, "?" to the help. Listeners sit on the document, so they outlive any re-render.

const writing = target =>
  target instanceof HTMLElement && (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName));

const help = () => document.getElementById("keys");

function jump() {
  const go = document.querySelector(".nb details");
  const narrow = go && getComputedStyle(go.parentElement).display !== "none";
  if (narrow) go.open = true;
  const field = document.querySelector(narrow ? ".gosh input[name=q]" : ".top input[name=q]");
  field?.focus();
  return field;
}

document.addEventListener("keydown", event => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  if (event.key === "Escape") {
    const go = document.querySelector(".nb details[open]");
    if (go) { go.open = false; go.querySelector("summary").focus(); }
    else if (event.target?.matches?.(".top input[name=q]")) event.target.blur();
    return;
  }
  if (writing(event.target) || document.querySelector("dialog[open]")) return;
  if (event.key === "/" && jump()) event.preventDefault();
  if (event.key === "?" && help()) { event.preventDefault(); help().showModal(); }
});

document.addEventListener("click", event => {
  const at = event.target.closest?.("[data-opens=keys], .gosh a, .skip");
  if (!at) {
    const go = document.querySelector(".nb details[open]");
    if (go && !go.contains(event.target)) go.open = false;
    return;
  }
  if (at.matches("[data-opens=keys]")) help()?.showModal();
  else if (at.matches(".skip")) { event.preventDefault(); document.getElementById("page")?.focus(); }
  else at.closest("details").open = false;
});
