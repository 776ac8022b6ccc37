// Fills a long list with the keyboard: Enter and the arrows go up and down within a column.

const list = document.querySelector("[data-store]");
const STEPS = { Enter: 1, ArrowDown: 1, ArrowUp: -1 };

list.querySelector("[data-keys]").hidden = false;

list.addEventListener("keydown", (event) => {
  const step = STEPS[event.key];
  const { column } = event.target.dataset;
  if (!step || !column || event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  const cells = [...list.querySelectorAll(`[data-column="${column}"]`)];
  const next = cells[cells.indexOf(event.target) + step];
  event.preventDefault();
  (next ?? (step > 0 ? list.querySelector("button.main") : event.target)).focus();
  next?.select();
});
