// Sends a form, and keeps it on the phone where that cannot be done now.
import { isUsed, put, use, uuid } from "./queue.js";
import { moment } from "./clock.js";

export const own = document.getElementById("carried").dataset;
const PATIENCE = 12000;

// ids of entries that a form makes
const ids = (form) => [...form.querySelectorAll("input[type=hidden]")].filter((f) => /(^|\.)id$/.test(f.name));

// The answer and its page; {kept} where it waits on the phone now; {lost} where even that failed.
export async function send(form, button) {
  const data = new FormData(form, button); // at once: on the tablet the name is in the form for this moment only
  for (const field of ids(form)) {
    if (await isUsed(field.value).catch(() => false)) data.set(field.name, (field.value = uuid()));
  }
  try {
    const answer = await asked(form.action, { method: "POST", body: data }, PATIENCE);
    const text = await answer.text();
    const asksWay = answer.redirected && new URL(answer.url).pathname === own.signIn;
    if (answer.status === 428) return through(form.action, data);
    if (!asksWay && [200, 409, 422].includes(answer.status)) {
      if (answer.status === 200) await use(ids(form).map((f) => f.value)).catch(() => {});
      return { answer, page: new DOMParser().parseFromString(text, "text/html") };
    }
  } catch {
    // no answer: it may have arrived all the same; its numbers make a second time harmless
  }
  try {
    return { kept: await keep(form, data) };
  } catch {
    return { lost: true };
  }
}

export function asked(address, how, patience) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), patience);
  return fetch(address, { ...how, signal: stop.signal }).finally(() => clearTimeout(timer));
}

async function keep(form, data) {
  const fields = [...data].filter(([name, value]) => name !== "csrfmiddlewaretoken" && typeof value === "string");
  const named = Object.fromEntries(fields);
  const when = await moment();
  const item = {
    id: uuid(), person: own.person, who: named.who || "", address: new URL(form.action).pathname,
    whoName: named.who ? document.querySelector(`#who button[value="${named.who}"]`)?.textContent : own.name,
    about: form.dataset.about || document.querySelector("h1")?.textContent || "",
    task: named.task || "", fields, told: told(form), html: asTyped(form), ids: ids(form).map((f) => f.value),
    ...when, order: named.happened ? Date.parse(named.happened) : when.at, state: "waiting", sentences: [],
  };
  await put(item);
  await use(item.ids).catch(() => {});
  return item;
}

// what was typed, in words: label, value, unit
export function told(form) {
  return [...form.querySelectorAll("input:not([type=hidden]),select,textarea")]
    .filter((f) => f.value && (!/checkbox|radio/.test(f.type) || f.checked))
    .map((f) => [f.labels?.[0]?.textContent.trim() || "", f.selectedOptions?.[0]?.text || f.value,
      f.closest(".typed")?.querySelector(".unit")?.textContent || ""]);
}

// the form with what was typed in it, as markup
function asTyped(form) {
  for (const f of form.elements) {
    if (/checkbox|radio/.test(f.type)) f.toggleAttribute("checked", f.checked);
    else if (f.options) [...f.options].forEach((o) => o.toggleAttribute("selected", o.selected));
    else if (f.matches("textarea")) f.defaultValue = f.value;
    else if (f.matches("input")) f.setAttribute("value", f.value);
  }
  const copy = form.cloneNode(true);
  copy.querySelectorAll("[name=csrfmiddlewaretoken],[name=who],.next,.notice").forEach((f) => f.remove());
  return copy.outerHTML;
}

// the server asks for a number: its own page does, with all that was typed
function through(action, data) {
  const form = document.createElement("form");
  Object.assign(form, { method: "post", action, hidden: true });
  for (const [name, value] of data) {
    const field = document.createElement("input");
    Object.assign(field, { type: "hidden", name, value });
    form.append(field);
  }
  document.body.append(form);
  HTMLFormElement.prototype.submit.call(form);
  return { away: true };
}
