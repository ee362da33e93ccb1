// The page of what waits on this phone: each entry, what became of it, and what it asks for.
import { all, drop, get, onChange, put } from "./queue.js";
import { told, own } from "./keeping.js";
import { go, GONE, one, status } from "./going.js";
import { clock, words } from "./frame.js";

const list = document.getElementById("waiting");
const say = list.dataset;
const part = (name) => document.getElementById(name).content.cloneNode(true);
let editing = "";

function add(parent, name, text, more = {}) {
  const made = Object.assign(document.createElement(name), { textContent: text, ...more });
  parent.append(made);
  return made;
}

async function show() {
  if (editing || list.contains(document.activeElement?.closest("form"))) return;
  const items = await all().catch(() => []);
  list.replaceChildren();
  if (status.signIn || (items.length && !own.person)) {
    const p = add(list, "p", "", { className: "actions" });
    add(p, "a", say.signIn, { className: "button", href: `${own.signIn}?next=${location.pathname}` });
  }
  const mine = items.filter((i) => i.person === own.person);
  for (const item of [...mine].reverse()) list.append(card(item));
  const others = items.filter((i) => i.person !== own.person && !GONE.includes(i.state));
  for (const name of new Set(others.map((i) => i.whoName)))
    add(list, "p", say.other.replaceAll("{name}", name), { className: "notice" });
  document.getElementById("go-now").hidden = !mine.some((i) => i.state === "waiting");
  if (!items.length) add(list, "p", say.none, { className: "empty" });
}

function card(item) {
  const made = part("one").firstElementChild;
  const find = (what) => made.querySelector(what);
  made.dataset.id = item.id;
  made.classList.add(item.state);
  find("h2").textContent = item.about;
  const state = item.state === "waiting" && status.signIn ? "signIn" : item.state;
  const label = say[`state${state[0].toUpperCase()}${state.slice(1)}`] || item.state;
  add(find(".state"), "b", label);
  find(".state").append(` ${say.typed.replace("{when}", clock(item.at))}, ${item.whoName}`);
  for (const [name, value, unit] of item.told) {
    add(find("dl"), "dt", name);
    add(find("dl"), "dd", `${value} ${unit}`.trim());
  }
  for (const sentence of item.sentences || []) add(find(".said"), "p", sentence);
  for (const [href, text] of item.links || []) add(find(".do"), "a", text, { href, className: "button plain" });
  const asks = document.getElementById(`do-${GONE.includes(item.state) ? "done" : item.state}`);
  if (asks) find(".do").append(asks.content.cloneNode(true));
  if (item.state === "when") find("[name=when]").value = item.choices?.[0] || "";
  return made;
}

list.addEventListener("click", async ({ target }) => {
  const what = target.closest("[data-do]")?.dataset.do;
  if (!what) return;
  const item = await get(target.closest(".waits").dataset.id);
  if (what === "clear") return drop(item.id);
  if (what === "drop") return confirm(say.sure) && drop(item.id);
  edit(target.closest(".waits"), item);
});

// the form as it was typed, to be put right
function edit(place, item) {
  editing = item.id;
  const page = new DOMParser().parseFromString(item.html, "text/html");
  const form = document.adoptNode(page.querySelector("form"));
  form.className = "edit";
  for (const said of item.sentences) form.prepend(words(said, "notice grave"));
  form.querySelectorAll("details").forEach((d) => (d.open = true));
  place.replaceChildren(place.querySelector("h2"), form);
  form.querySelector("input:not([type=hidden]),select,textarea")?.focus();
}

list.addEventListener("submit", async (event) => {
  event.preventDefault();
  event.stopPropagation();
  const form = event.target;
  const item = await get(form.closest(".waits").dataset.id);
  const more = Object.fromEntries(new FormData(form, event.submitter));
  if (form.matches(".edit")) {
    item.fields = [...new FormData(form)];
    item.told = told(form);
    for (const f of form.querySelectorAll("input")) f.setAttribute("value", f.value);
    item.html = form.outerHTML;
    if (item.who) item.fields.push(["who", item.who]);
  } else if (more.who) {
    item.who = more.who;
    item.fields = [...item.fields.filter(([name]) => name !== "who"), ["who", more.who]];
    item.whoName = event.submitter.textContent;
  } else if (more.when) {
    item.when = more.when;
  }
  if (!more.pin) item.state = "waiting";
  item.sentences = [];
  editing = "";
  document.activeElement?.blur();
  await put(item);
  if (more.pin) await one(item, { pin: more.pin }); // the number is kept nowhere
  go();
});

document.getElementById("go-now").addEventListener("click", go);
onChange(show);
document.addEventListener("carried:pause", show);
show();
