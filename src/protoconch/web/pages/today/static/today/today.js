// Saves a line in place: the form goes out as it would without this, and the page that comes back
// takes the place of this one, but for what was typed at other lines.
const own = document.querySelector('script[src*="today/today.js"]').dataset;
const said = document.getElementById("said");

// where the cursor belongs: at what went wrong, else at the first number still wanted, else at Save
const first = (line) =>
  line.querySelector("[data-focus]") ||
  [...line.querySelectorAll(".settle [data-needed]")].find((field) => !field.value) ||
  line.querySelector(".settle button");

// opening a line puts the cursor where the number goes
document.addEventListener("toggle", ({ target }) => {
  if (target.open && target.matches(".one") && !target.closest(".settled")) first(target)?.focus();
}, true);

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.matches(".settle")) return;
  event.preventDefault();
  if (form.dataset.busy) return;
  form.dataset.busy = "yes";
  try {
    const answer = await fetch(form.action, { method: "POST", body: new FormData(form, event.submitter) });
    if (![200, 409, 422].includes(answer.status)) throw new Error(answer.status);
    take(new DOMParser().parseFromString(await answer.text(), "text/html"), form.closest(".task"));
  } catch {
    tell(form, own.failed);
  } finally {
    delete form.dataset.busy;
  }
});

function take(page, line) {
  const order = [...document.querySelectorAll(".task")].map(({ id }) => id);
  for (const other of document.querySelectorAll(".task")) {
    const fresh = other !== line && typed(other) && page.getElementById(other.id);
    if (fresh && !fresh.matches(".settled")) fresh.replaceWith(document.adoptNode(other));
  }
  for (const part of document.querySelectorAll("[data-live]")) {
    const fresh = page.getElementById(part.id);
    if (fresh) part.replaceWith(document.adoptNode(fresh));
  }
  const now = document.getElementById(line.id);
  if (now && !now.matches(".settled")) return first(now)?.focus();
  said.textContent = `${own.saved} ${document.getElementById("title").textContent}`;
  const after = order.slice(order.indexOf(line.id) + 1).map((id) => document.getElementById(id));
  const next = after.find((each) => each && !each.matches(".settled")) || now;
  (next?.querySelector("summary") || document.getElementById("main")).focus();
}

const typed = (line) =>
  [...line.querySelectorAll("input:not([type=hidden])")].some((field) => field.value !== field.defaultValue);

function tell(form, sentence) {
  form.querySelector(".failed")?.remove();
  const words = document.createElement("p");
  words.className = "notice grave failed";
  words.setAttribute("role", "alert");
  words.textContent = sentence;
  form.prepend(words);
}
