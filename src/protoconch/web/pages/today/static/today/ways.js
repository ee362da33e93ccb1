// The other ways to settle a line, and how its amount was worked out: fetched behind the page, and
// put in place of the link to them when the line is opened. Without network they are here by then.
const known = new Map();
let coming = null;

function come(address) {
  coming ||= fetch(address)
    .then((answer) => (answer.ok && !answer.redirected ? answer.text() : ""))
    .then((text) => {
      const page = new DOMParser().parseFromString(text, "text/html");
      for (const line of page.querySelectorAll(".ways")) known.set(line.id, line.querySelector(".rest-of"));
      if (!known.size) coming = null;
    })
    .catch(() => (coming = null));
  return coming;
}

const link = (line) => line?.querySelector(":scope > .one > .besides > a");
const address = (a) => new URL(".", a.href).href.slice(0, -1); // of all lines, not of this one

async function fill(line) {
  const there = link(line);
  if (!there) return;
  if (!known.has(line.id)) await come(address(there));
  const rest = known.get(line.id);
  if (rest && there.isConnected) there.parentNode.replaceWith(...document.importNode(rest, true).childNodes);
}

document.addEventListener("toggle", ({ target }) => {
  if (target.open && target.matches(".one")) fill(target.closest(".task"));
}, true);

const idle = window.requestIdleCallback || ((later) => setTimeout(later, 1500));
addEventListener("load", () => idle(() => {
  const first = document.querySelector(".task .besides > a");
  if (first) come(address(first)).then(() => document.querySelectorAll(".one[open]").forEach((one) => fill(one.closest(".task"))));
}));
