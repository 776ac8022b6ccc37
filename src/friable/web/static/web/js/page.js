// Leads the eye and the keyboard to what was refused, and says when the page answers to what is typed.

const lead = (root) => {
  const refused = root.querySelector("[aria-invalid='true']") ?? root.querySelector(".refusals");
  if (!refused) return;
  const details = refused.closest("details");
  if (details) details.open = true;
  if (refused.matches("input, select, textarea")) refused.focus();
  refused.scrollIntoView({ block: "center" });
};

lead(document.querySelector("main"));

document.body.addEventListener("htmx:load", () => {
  document.documentElement.dataset.ready = "yes";
});

// A line of pots that was added takes the keyboard with it.
document.body.addEventListener("htmx:afterSettle", () => {
  const next = document.querySelector("[data-focus]");
  if (!next) return;
  next.removeAttribute("data-focus");
  next.focus();
});
