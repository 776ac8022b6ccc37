// Keeps the first refusal in view, says aloud that a part of the page was worked out anew, keeps drafts.

const firstRefusal = (root) => root.querySelector("[aria-invalid='true'], .refusals");

const lead = (root) => {
  const refused = firstRefusal(root);
  if (!refused) return;
  if (refused.matches("input, select, textarea")) refused.focus();
  refused.scrollIntoView({ block: "center" });
};

lead(document.querySelector("main"));

// A form that was replaced keeps the keyboard where it was, or goes to what was refused.
document.body.addEventListener("htmx:afterSettle", (event) => {
  const target = event.detail.elt;
  const focus = target.querySelector("[data-focus]");
  if (focus) focus.focus();
});

document.body.addEventListener("htmx:sendError", () => {
  const note = document.querySelector("[data-offline]");
  if (note) note.hidden = false;
});
