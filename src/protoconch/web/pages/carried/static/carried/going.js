// Sends what waits, once each and in order, as soon as the network is back.
import { all, get, put } from "./queue.js";
import { meet } from "./clock.js";
import { asked, own } from "./keeping.js";

const FIRST = 2000, LONGEST = 300e3;
let pause = FIRST, timer = 0, busy = false, again = false;
export const GONE = ["saved", "there", "doubtful"];
const STUCK = ["refused", "when", "number", "who", ...GONE];
export const status = { signIn: false, reached: null };

const cookie = () => /(?:^|; )csrftoken=([^;]+)/.exec(document.cookie)?.[1] || "";

// the server's time, who is signed in, and a fresh cookie
export async function ask() {
  const sent = Date.now();
  const answer = await asked(own.clock, { cache: "no-store" }, 10000);
  const said = await answer.json();
  await meet(said.now, sent);
  status.reached = true;
  status.signIn = said.person !== own.person;
  return said;
}

export async function go() {
  clearTimeout(timer);
  if (busy) return void (again = true);
  if (!own.person) return;
  busy = true;
  try {
    do {
      again = false;
      for (const item of await all()) {
        if (item.person !== own.person || STUCK.includes(item.state)) continue;
        if (!(await one(item))) return later();
      }
    } while (again);
    pause = FIRST;
  } catch {
    later();
  } finally {
    busy = false;
    document.dispatchEvent(new Event("carried:pause"));
  }
}

function later() {
  timer = setTimeout(go, pause * (0.75 + Math.random() / 2));
  pause = Math.min(LONGEST, pause * 2);
}

addEventListener("online", () => ((pause = FIRST), go()));
document.addEventListener("visibilitychange", () => document.hidden || ((pause = FIRST), go()));
addEventListener("pageshow", (event) => event.persisted && go());

// true where the next one may go; more: what a person said to it since
export async function one(item, more = {}, tried = false) {
  const body = new FormData();
  for (const [name, value] of item.fields) body.append(name, value);
  const sent = Date.now();
  const said = { id: item.id, address: item.address, person: item.person, at: item.at, sent, when: item.when,
    seen: item.seen, ahead: item.ahead, steady: item.steady ? "yes" : "" };
  for (const [name, value] of Object.entries(said)) body.set(`carried.${name}`, value ?? "");
  for (const [name, value] of Object.entries(more)) body.set(name, value);
  let answer;
  try {
    answer = await asked(own.take, { method: "POST", body, redirect: "manual",
      headers: { "X-CSRFToken": cookie() } }, 20000);
    status.reached = true;
  } catch {
    status.reached = false;
    return false;
  }
  if (answer.type === "opaqueredirect") return !(status.signIn = true);
  if (answer.status === 403 && !tried) {
    await ask();
    return status.signIn ? false : one(item, more, true);
  }
  if (answer.status === 428) return asksWho(item, await answer.text());
  if (answer.status >= 500) return false;
  if (!answer.ok) return became(item, "refused", { sentences: [own.odd] });
  const told = await answer.json(); // a page of somebody else's network is no answer of ours
  await meet(told.now, sent);
  if (told.outcome === "other") return !(status.signIn = true);
  status.signIn = false;
  return became(item, told.outcome, told);
}

async function asksWho(item, text) {
  const page = new DOMParser().parseFromString(text, "text/html");
  const fault = page.getElementById("pin_error")?.textContent;
  return became(item, page.getElementById("pin") ? "number" : "who", { sentences: fault ? [fault] : [] });
}

async function became(item, state, { sentences = [], links = [], choices = [] }) {
  const now = await get(item.id);
  if (!now || GONE.includes(now.state)) return true; // thrown away meanwhile, or sent by another tab
  Object.assign(now, { state, sentences, links, choices });
  if (GONE.includes(state)) Object.assign(now, { done: Date.now(), html: "", fields: [] });
  await put(now);
  document.dispatchEvent(new CustomEvent("carried", { detail: now }));
  return true;
}
