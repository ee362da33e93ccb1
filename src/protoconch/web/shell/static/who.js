// On the tablet of the room: asks for the name in place, before a form goes out. Without this, or for
// somebody who has a number, the page of the server asks, with all that was typed. A form that can
// wait on the tablet asks for no number before the network is there.
const asked = document.getElementById("who");
let waiting = null;

window.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || form.dataset.anyone !== undefined || form.elements.who) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  waiting = { form, button: event.submitter };
  asked.showModal();
}, true);

asked.addEventListener("click", ({ target }) => {
  const name = target.closest("button");
  if (!name || !waiting) return;
  const { form, button } = waiting;
  waiting = null;
  asked.close();
  if (!name.value) return button?.focus();
  const fields = [hidden(form, "who", name.value)];
  if (name.dataset.number && form.dataset.carried === undefined) {
    if (button?.name) fields.push(hidden(form, button.name, button.value));
    HTMLFormElement.prototype.submit.call(form);
  } else {
    form.requestSubmit(button);
  }
  // whoever sends the next one is asked again
  setTimeout(() => fields.forEach((field) => field.remove()));
});

function hidden(form, name, value) {
  const field = document.createElement("input");
  Object.assign(field, { type: "hidden", name, value });
  form.append(field);
  return field;
}
