// Opens today's work without network: what was seen last is kept, with the time at which it was seen.
// VERSION comes before this text. What was typed is not here: it lies in the browser's store.
const LOOKS = `looks-${VERSION}`, PAGES = "pages";
const KEPT = /^\/($|today\/[\d-]+(\/ways)?$|how-to(\/|$)|log\/add(\/|$)|carried\/$)/;
const PATIENCE = 5000, HALF_A_DAY = 12 * 3600e3;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name !== LOOKS && name !== PAGES) await caches.delete(name);
  await self.clients.claim();
})()));

const forget = () => caches.delete(PAGES);

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const at = new URL(request.url);
  if (at.origin !== location.origin) return;
  if (request.method === "POST") {
    // signed out: nothing of this person's stays in the cache
    if (at.pathname === SIGN_OUT) event.waitUntil(forget());
    return;
  }
  if (request.method !== "GET") return;
  if (at.pathname.startsWith("/static/") || at.pathname === "/look.css") event.respondWith(look(event));
  else if (KEPT.test(at.pathname)) event.respondWith(page(event, at));
});

// style sheets, scripts and drawings: as they lie here, and fetched anew behind that
async function look(event) {
  const store = await caches.open(LOOKS);
  const kept = await store.match(event.request);
  const fresh = fetch(event.request).then((answer) => {
    if (answer.ok) return store.put(event.request, answer.clone()).then(() => answer);
    return answer;
  });
  if (!kept) return fresh;
  event.waitUntil(fresh.catch(() => {}));
  return kept;
}

// pages: from the hatchery if it answers in time, else as they were seen last
async function page(event, { pathname: path, search }) {
  const fresh = fetch(event.request).then(async (answer) => {
    if (answer.ok && !answer.redirected) search || (await keep(path, answer.clone()));
    else if (answer.type === "opaqueredirect" || answer.redirected) await forget(); // the sign-in asks
    return answer;
  });
  const late = new Promise((done) => setTimeout(done, PATIENCE));
  const first = await Promise.race([fresh.catch(() => null), late]);
  if (first) return first;
  const kept = await (await caches.open(PAGES)).match(path);
  return kept || fresh;
}

// a page as it can be shown later, with the time at which it was seen; one person's at a time
async function keep(path, answer) {
  const text = await answer.text();
  const person = /id="carried"[^>]*data-person="(\d*)"/.exec(text)?.[1];
  if (!person) return forget();
  let store = await caches.open(PAGES);
  const before = await (await store.match("/of"))?.text();
  if (before && before !== person) {
    await forget();
    store = await caches.open(PAGES);
  }
  await store.put("/of", new Response(person));
  const seen = text.replace("<html ", `<html data-seen="${Date.now()}" `);
  const headers = { "Content-Type": "text/html; charset=utf-8" };
  const policy = answer.headers.get("Content-Security-Policy");
  if (policy) headers["Content-Security-Policy"] = policy;
  await store.put(path, new Response(seen, { headers }));
}

// pages that may be needed later: today's, the forms, what waits
self.addEventListener("message", (event) => event.waitUntil((async () => {
  const store = await caches.open(PAGES);
  for (const path of event.data.pages || []) {
    const kept = await (await store.match(path))?.text();
    if (!event.data.anew && Number(/data-seen="(\d+)"/.exec(kept)?.[1]) > Date.now() - HALF_A_DAY) continue;
    const answer = await fetch(path).catch(() => null);
    if (!answer) return;
    if (answer.ok && !answer.redirected) await keep(path, answer);
  }
})()));
