// How far the phone's clock is ahead of the server's, measured whenever the two meet.
import { note, noted } from "./queue.js";

let met = null;

// server: its time; sent, got: the phone's, before and after it was asked [ms]
export function meet(server, sent, got = Date.now()) {
  met = { wall: Date.now(), steps: performance.now() };
  return note("clock", { ahead: Math.round((sent + got) / 2 - server), seen: server }).catch(() => {});
}

// what is to be known later of something that is typed now
export async function moment() {
  const last = (await noted("clock").catch(() => null)) || {};
  // the page's own count of seconds goes on evenly, whatever is done to the phone's clock
  const steady = met && Math.abs(Date.now() - met.wall - (performance.now() - met.steps)) < 2000;
  return { at: Date.now(), ahead: last.ahead, seen: last.seen, steady: Boolean(steady) };
}
