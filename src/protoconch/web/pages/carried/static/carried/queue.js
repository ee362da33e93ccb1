// What waits on this phone, in the browser's own store: written to the disk before anybody is told
// that it is kept. Works over plain http too.
const DAY = 86400e3;
const opening = new Promise((done, failed) => {
  const asked = indexedDB.open("protoconch-carried", 1);
  asked.onupgradeneeded = () => {
    asked.result.createObjectStore("forms", { keyPath: "id" });
    asked.result.createObjectStore("used", { keyPath: "id" });
    asked.result.createObjectStore("notes");
  };
  asked.onsuccess = () => done(asked.result);
  asked.onerror = asked.onblocked = () => failed(asked.error);
});
opening.catch(() => {});

async function write(store, change) {
  const base = await opening;
  return new Promise((done, failed) => {
    const work = base.transaction(store, "readwrite", { durability: "strict" });
    work.oncomplete = done;
    work.onerror = work.onabort = () => failed(work.error);
    change(work.objectStore(store));
  });
}

async function read(store, ask) {
  const base = await opening;
  return new Promise((done, failed) => {
    const asked = ask(base.transaction(store).objectStore(store));
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
}

const others = "BroadcastChannel" in self ? new BroadcastChannel("protoconch-carried") : null;
const changed = new EventTarget();
others?.addEventListener("message", () => changed.dispatchEvent(new Event("change")));
function tell() {
  changed.dispatchEvent(new Event("change"));
  others?.postMessage("");
}
export const onChange = (then) => changed.addEventListener("change", then);

// all forms, in the order in which they happened
export const all = async () => (await read("forms", (s) => s.getAll())).sort((a, b) => a.order - b.order);
export const get = (id) => read("forms", (s) => s.get(id));
export const put = (item) => write("forms", (s) => s.put(item)).then(tell);
export const drop = (id) => write("forms", (s) => s.delete(id)).then(tell);

// numbers of entries that this phone has sent or keeps, so that a page that is shown once more
// does not give the same number to something new
export const isUsed = async (id) => Boolean(await read("used", (s) => s.get(id)));
export const use = (ids) => write("used", (s) => ids.forEach((id) => s.put({ id, at: Date.now() })));
export const sweep = async () => {
  const old = Date.now() - 60 * DAY;
  const ids = (await read("used", (s) => s.getAll())).filter((one) => one.at < old).map((one) => one.id);
  if (ids.length) await write("used", (s) => ids.forEach((id) => s.delete(id)));
  for (const item of await all()) if (item.done && item.done < Date.now() - 3 * DAY) await drop(item.id);
};

export const note = (key, value) => write("notes", (s) => s.put(value, key));
export const noted = (key) => read("notes", (s) => s.get(key));

export function uuid() {
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  const hex = [...b].map((n) => n.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}
