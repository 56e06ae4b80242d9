// Dragging a row: some browsers drag nothing that carries no data, and show where it may be dropped only when asked.
document.addEventListener("dragstart", event => {
  const row = event.target.closest?.("[data-drag]");
  if (!row) return;
  event.dataTransfer.setData("text/plain", "");
  event.dataTransfer.effectAllowed = "move";
  row.closest("[data-drop]")?.classList.add("dragged");
});

const over = new Set();
const leave = () => { for (const at of over) at.classList.remove("over"); over.clear(); };

document.addEventListener("dragover", event => {
  const at = event.target.closest?.("[data-drop]");
  if (at && over.has(at)) return;
  leave();
  if (at) { at.classList.add("over"); over.add(at); }
});

for (const end of ["dragend", "drop"]) document.addEventListener(end, () => {
  leave();
  for (const row of document.querySelectorAll(".dragged")) row.classList.remove("dragged");
});
