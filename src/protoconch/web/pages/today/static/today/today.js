// Saves a line in place: the form goes out as it would without this, and of the page that comes
// back only the line, the title and what is counted are taken over.
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
  const fresh = page.getElementById(line.id);
  if (!fresh) return location.reload();
  for (const part of document.querySelectorAll("[data-live]")) {
    const now = page.getElementById(part.id);
    if (now) part.replaceWith(document.adoptNode(now));
  }
  const list = line.parentElement;
  const next = line.nextElementSibling;
  line.replaceWith(document.adoptNode(fresh));
  if (!fresh.matches(".settled")) return first(fresh)?.focus();
  list.append(fresh);
  said.textContent = `${own.saved} ${document.getElementById("title").textContent}`;
  (next && next !== fresh && !next.matches(".settled") ? next : fresh).querySelector("summary").focus();
}

function tell(form, sentence) {
  form.querySelector(".failed")?.remove();
  const words = document.createElement("p");
  words.className = "notice grave failed";
  words.setAttribute("role", "alert");
  words.textContent = sentence;
  form.prepend(words);
}
