// In the frame of every page: how many entries wait on this phone, and whether there is a network.
import { all, onChange, sweep } from "./queue.js";
import { meet } from "./clock.js";
import { own, send } from "./keeping.js";
import { ask, go, GONE, status } from "./going.js";

const bar = document.getElementById("carried");
const link = bar.querySelector("a");
const page = document.documentElement;

const rules = new Intl.PluralRules(page.lang);
function counted(name, n) {
  const like = [1, 2, 5].find((m) => rules.select(m) === rules.select(n)) || 5;
  return own[name + like].replace(String(like), n);
}

export const clock = (ms) => new Intl.DateTimeFormat(page.lang, {
  weekday: "long", hour: "2-digit", minute: "2-digit", hourCycle: "h23", timeZone: own.zone || undefined,
}).format(ms);

async function show() {
  const items = await all().catch(() => []);
  const waiting = items.filter(({ state }) => !GONE.includes(state));
  const asking = items.filter((i) => i.person === own.person && !["waiting", "saved", "there"].includes(i.state));
  link.hidden = !waiting.length && !asking.length;
  const said = waiting.length ? [counted("waits", waiting.length)] : [];
  if (waiting.length && status.signIn) said.push(own.signInFirst);
  if (asking.length) said.push(counted("asks", asking.length));
  link.textContent = said.join(" ");
  link.classList.toggle("asks", Boolean(asking.length) || status.signIn);
}

function seen() {
  if (!page.dataset.seen) return;
  const words = document.createElement("p");
  words.className = "notice";
  words.setAttribute("role", "status");
  words.textContent = own.seen.replace("{when}", clock(Number(page.dataset.seen)));
  document.getElementById("main").prepend(words);
}

function how() {
  const line = document.getElementById("carried-how");
  if (line) line.textContent = navigator.serviceWorker?.controller ? own.installed : own.open;
}

// forms of other pages than Today
document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.matches("form[data-carried]") || form.matches(".settle")) return;
  event.preventDefault();
  if (form.dataset.busy) return;
  form.dataset.busy = "yes";
  const { answer, page: came, kept, lost } = await send(form, event.submitter);
  delete form.dataset.busy;
  if (came) {
    document.title = came.title;
    document.querySelector("main").replaceWith(document.adoptNode(came.querySelector("main")));
    if (answer.redirected) history.replaceState(null, "", answer.url);
    scrollTo(0, 0);
    (document.querySelector("main [data-focus]") || document.getElementById("main")).focus();
  } else if (kept) {
    form.replaceWith(words(own.kept, "notice"));
    go();
  } else if (lost) {
    form.querySelector(".lost")?.remove();
    form.prepend(words(own.lost, "notice grave lost"));
  }
});

export function words(text, kind) {
  const said = document.createElement("p");
  said.className = kind;
  said.setAttribute("role", "alert");
  said.textContent = text;
  return said;
}

// leaving for good while something waits
document.addEventListener("submit", async (event) => {
  const form = event.target; // form.action may be a button of that name
  if (new URL(form.getAttribute("action") || "", location).pathname !== own.signOut || form.dataset.asked) return;
  event.preventDefault();
  const own_ = (await all().catch(() => [])).filter((i) => i.person === own.person && !GONE.includes(i.state));
  form.dataset.asked = "yes";
  if (!own_.length || confirm(own.leaving)) form.submit();
  else delete form.dataset.asked;
});

async function begin() {
  seen();
  const fresh = performance.getEntriesByType("navigation")[0]?.type !== "back_forward" && !page.dataset.seen;
  if (fresh && own.now) await meet(Number(own.now), Date.now());
  onChange(show);
  document.addEventListener("carried:pause", show);
  await show();
  go();
  how();
  if (location.protocol === "https:" && "serviceWorker" in navigator) {
    navigator.serviceWorker.addEventListener("controllerchange", how);
    await navigator.serviceWorker.register(own.worker).catch(() => {});
    navigator.storage?.persist?.();
    how();
    if (own.person && fresh && location.pathname === own.today) await readyForLater();
  }
  sweep().catch(() => {});
}

// what may be needed without network: the forms for whatever else happens, and this phone's own page
async function readyForLater() {
  const { active } = await navigator.serviceWorker.ready;
  const answer = await fetch(own.forms).catch(() => null);
  if (!answer?.ok) return;
  const kinds = new DOMParser().parseFromString(await answer.text(), "text/html");
  const pages = [...kinds.querySelectorAll(`a[href^="${own.forms}/"]`)].map((a) => a.getAttribute("href"));
  active.postMessage({ pages: [own.today, own.forms, bar.querySelector("a").getAttribute("href"), ...pages] });
}

export { ask };
begin();
