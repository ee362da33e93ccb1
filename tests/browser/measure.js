// Looks at a report at several widths and writes what it finds into the page, as JSON.
const WIDTHS = [360, 1280];

function luminance(colour) {
  const channels = colour.match(/[\d.]+/g).slice(0, 3).map((c) => c / 255);
  const [r, g, b] = channels.map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(one, other) {
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

function ground(view, element) {
  for (let e = element; e; e = e.parentElement) {
    const colour = view.getComputedStyle(e).backgroundColor;
    if (!/, 0\)$|transparent/.test(colour)) return colour;
  }
  return "rgb(255, 255, 255)";
}

function leastContrast(view, document_) {
  let least = { ratio: 99, words: "" };
  const wanted = "p, li, dt, dd, td, th, a, summary, figcaption, h1, h2, h3, svg text";
  for (const element of document_.querySelectorAll(wanted)) {
    if (!element.getClientRects().length) continue;
    const style = view.getComputedStyle(element);
    const colour = element.tagName === "text" ? style.fill : style.color;
    const ratio = contrast(colour, ground(view, element));
    if (ratio < least.ratio) least = { ratio, words: element.textContent.slice(0, 40) };
  }
  return least;
}

function touching(svg) {
  const boxes = [...svg.querySelectorAll("text")].map((t) => [t.textContent, t.getBoundingClientRect()]);
  const found = [];
  boxes.forEach(([words, a], i) => {
    for (const [others, b] of boxes.slice(i + 1)) {
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (across > 1 && down > 4) found.push([words, others, across, down]);
    }
  });
  return found;
}

function outside(svg) {
  const frame = svg.getBoundingClientRect();
  return [...svg.querySelectorAll("text")]
    .filter((t) => {
      const box = t.getBoundingClientRect();
      return box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1;
    })
    .map((t) => t.textContent);
}

function smallestLetters(svgs) {
  const sizes = svgs.map((svg) => {
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    const texts = [...svg.querySelectorAll("text")];
    return scale * Math.min(...texts.map((t) => parseFloat(getComputedStyle(t).fontSize)));
  });
  return Math.min(99, ...sizes);
}

function measured(frame, width) {
  const document_ = frame.contentDocument;
  const view = frame.contentWindow;
  const closed = document_.documentElement.scrollWidth;
  document_.querySelectorAll("details").forEach((d) => (d.open = true));
  const svgs = [...document_.querySelectorAll("svg")].filter((s) => s.getClientRects().length);
  const shown = (name) => view.getComputedStyle(document_.querySelector(name)).display !== "none";
  const wide = [...document_.querySelectorAll("main *")]
    .filter((e) => !e.closest("svg, thead") && e.getBoundingClientRect().right > width + 1)
    .map((e) => e.tagName + " " + e.textContent.slice(0, 40));
  return {
    closed,
    open: document_.documentElement.scrollWidth,
    wide: wide.slice(0, 5),
    phone: shown(".phone"),
    desk: shown(".desk"),
    fetched: view.performance.getEntriesByType("resource").map((r) => r.name),
    touching: svgs.flatMap(touching),
    outside: svgs.flatMap(outside),
    letters: smallestLetters(svgs),
    contrast: leastContrast(view, document_),
    sand: luminance(view.getComputedStyle(document_.body).backgroundColor),
    targets: Math.min(...[...document_.querySelectorAll("summary")]
      .filter((s) => s.getClientRects().length).map((s) => s.getBoundingClientRect().height)),
    pictures: svgs.length,
  };
}

async function look() {
  const text = document.getElementById("report").textContent;
  const found = {};
  for (const width of WIDTHS) {
    const frame = document.createElement("iframe");
    frame.style.cssText = `width:${width}px;height:900px;border:0`;
    frame.srcdoc = JSON.parse(text);
    await new Promise((done) => {
      frame.onload = done;
      document.body.append(frame);
    });
    found[width] = measured(frame, width);
    frame.remove();
  }
  document.body.innerHTML = "";
  document.body.textContent = JSON.stringify(found);
}

look().catch((error) => (document.body.textContent = JSON.stringify({ error: String(error) })));
