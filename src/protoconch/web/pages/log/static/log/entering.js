// Typing numbers on a phone: a list of numbers gets a button for the next one, since a number pad
// has no space; in a row of boxes Enter goes on to the next box.
function grow(field) {
  if (field.dataset.ready) return;
  field.dataset.ready = "yes";
  field.inputMode = "decimal";
  const next = document.createElement("button");
  next.type = "button";
  next.className = "plain next";
  next.textContent = field.dataset.numbers;
  next.addEventListener("click", () => {
    if (field.value && !/[\s;]$/.test(field.value)) field.value += " ";
    field.focus();
    field.setSelectionRange(field.value.length, field.value.length);
  });
  field.after(next);
}

const all = (root) => root.querySelectorAll("[data-numbers]").forEach(grow);
all(document);
new MutationObserver((changes) => {
  for (const change of changes)
    for (const node of change.addedNodes) if (node.querySelectorAll) all(node);
}).observe(document.body, { childList: true, subtree: true });

document.addEventListener("keydown", (event) => {
  const field = event.target;
  if (event.key !== "Enter" || !field.matches?.("input[enterkeyhint=next]")) return;
  const boxes = [...field.form.querySelectorAll("input:not([type=hidden])")];
  const next = boxes[boxes.indexOf(field) + 1];
  if (next) {
    event.preventDefault();
    next.focus();
  }
});

document.querySelector("[data-focus]")?.focus();
