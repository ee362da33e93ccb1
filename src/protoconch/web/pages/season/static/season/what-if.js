// While something is changed on the form: ask the server for the changed season and show it.
const form = document.querySelector("form[data-live]");
const place = form && document.querySelector(form.dataset.live);
const WAIT_MS = 120;
let timer, running;

async function show() {
  if (running) running.abort();
  running = new AbortController();
  const asked = new URLSearchParams(new FormData(form));
  const address = `${form.getAttribute("action")}?${asked}`;
  asked.set("part", "1");
  place.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(`${form.getAttribute("action")}?${asked}`, { signal: running.signal });
    if (!answer.ok || answer.redirected) return;
    const typed = place.querySelector("input[name=name]")?.value;
    place.innerHTML = await answer.text();
    const name = place.querySelector("input[name=name]");
    if (name && typed) name.value = typed;
    history.replaceState(null, "", address);
  } catch (fault) {
    if (fault.name !== "AbortError") place.setAttribute("data-away", "true");
  } finally {
    place.removeAttribute("aria-busy");
  }
}

function soon() {
  clearTimeout(timer);
  timer = setTimeout(show, WAIT_MS);
}

// a slider under each number that has a usual range
function slider(input) {
  const range = document.createElement("input");
  const most = Number(input.dataset.slideTo);
  Object.assign(range, { type: "range", min: 0, max: most, step: most / 200, value: input.value });
  range.setAttribute("aria-label", input.labels[0].textContent.trim());
  range.addEventListener("input", () => {
    const step = most >= 100 ? 1 : most >= 10 ? 0.1 : 0.01;
    input.value = (Math.max(step, Math.round(range.value / step) * step)).toFixed(step < 0.1 ? 2 : step < 1 ? 1 : 0);
    soon();
  });
  input.addEventListener("input", () => { range.value = input.value; });
  input.closest(".field").append(range);
}

if (form && place) {
  form.querySelectorAll("input[data-slide-to]").forEach(slider);
  form.addEventListener("input", soon);
  form.addEventListener("submit", (event) => { event.preventDefault(); show(); });
}
