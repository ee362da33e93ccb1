// Saves a line in place: the form goes out as it would without this, and the page that comes back
// takes the place of this one, but for what was typed at other lines. Without network the line is
// kept on the phone, and says so.
import { all, onChange } from "../carried/queue.js";
import { send } from "../carried/keeping.js";
import { go, GONE } from "../carried/going.js";

const own = document.querySelector('script[src*="today/today.js"]').dataset;
const frame = document.getElementById("carried").dataset;
const said = document.getElementById("said");

// where the cursor belongs: at what went wrong, else at the first number still wanted, else at Save
const first = (line) =>
  line.querySelector("[data-focus]") ||
  [...line.querySelectorAll(".settle [data-needed]")].find((f) => !f.value && !f.closest("details:not([open])")) ||
  line.querySelector(".settle button");

// opening a line puts the cursor where the number goes, and Save where the thumb is
document.addEventListener("toggle", ({ target }) => {
  if (!target.open || !target.matches(".one") || target.closest(".settled,.waiting")) return;
  first(target)?.focus();
  const form = target.querySelector(".settle");
  if (form?.offsetHeight < innerHeight / 2) form.querySelector("button:last-of-type")?.scrollIntoView({ block: "nearest" });
}, true);

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.matches(".settle")) return;
  event.preventDefault();
  if (form.dataset.busy) return;
  form.dataset.busy = "yes";
  const { page, kept, lost } = await send(form, event.submitter);
  delete form.dataset.busy;
  if (page?.getElementById("work")) take(page, form.closest(".task"));
  else if (kept) await keeps(form.closest(".task"));
  else if (lost || page) tell(form, frame.lost);
});

// what was kept goes on to the next line, as if it were saved
async function keeps(line) {
  await mark();
  go();
  said.textContent = frame.kept;
  next(line);
}

function take(page, line) {
  const order = places();
  put(page, line);
  const now = document.getElementById(line.id);
  if (now && !now.matches(".settled")) return first(now)?.focus();
  // a page that is kept for use without network is not to show the line as open
  navigator.serviceWorker?.controller?.postMessage({ pages: [location.pathname], anew: true });
  said.textContent = `${own.saved} ${document.getElementById("title").textContent}`;
  next(now || line, order);
}

function put(page, line) {
  for (const other of document.querySelectorAll(".task")) {
    const fresh = other !== line && typed(other) && page.getElementById(other.id);
    if (fresh && !fresh.matches(".settled")) fresh.replaceWith(document.adoptNode(other));
  }
  for (const part of document.querySelectorAll("[data-live]")) {
    const fresh = page.getElementById(part.id);
    if (fresh) part.replaceWith(document.adoptNode(fresh));
  }
  mark();
}

const places = () => [...document.querySelectorAll(".task")].map(({ id }) => id);
function next(line, order = places()) {
  const after = order.slice(order.indexOf(line.id) + 1).map((id) => document.getElementById(id));
  const open = after.find((each) => each && !each.matches(".settled,.waiting")) || line;
  (open?.querySelector("summary") || document.getElementById("main")).focus();
}

const typed = (line) =>
  [...line.querySelectorAll("input:not([type=hidden])")].some((field) => field.value !== field.defaultValue);

// lines that wait on this phone say so, and do not ask again
async function mark() {
  const items = await all().catch(() => []);
  for (const line of document.querySelectorAll(".task:not(.settled)")) {
    const key = line.querySelector(".settle [name=task]")?.value;
    const item = items.find((i) => i.task === key && i.person === frame.person && !GONE.includes(i.state));
    if (Boolean(item) === line.matches(".waiting")) continue;
    line.classList.toggle("waiting", Boolean(item));
    line.querySelector(".on-phone")?.remove();
    if (!item) continue;
    line.querySelector(".one").open = false;
    const words = Object.assign(document.createElement("a"), { className: "on-phone", href: own.waiting });
    words.textContent = item.state === "waiting" ? own.kept : own.asks;
    line.append(words);
  }
}
onChange(mark);
mark();

// what went up in the meantime is shown as the hatchery has it now
let went = false;
document.addEventListener("carried", ({ detail }) => (went ||= GONE.includes(detail.state)));
document.addEventListener("carried:pause", async () => {
  if (!went) return;
  went = false;
  const answer = await fetch(location.pathname).catch(() => null);
  if (answer?.ok) put(new DOMParser().parseFromString(await answer.text(), "text/html"), null);
});

function tell(form, sentence) {
  form.querySelector(".failed")?.remove();
  const words = document.createElement("p");
  words.className = "notice grave failed";
  words.setAttribute("role", "alert");
  words.textContent = sentence;
  form.prepend(words);
}
