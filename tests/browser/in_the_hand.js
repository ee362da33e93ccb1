// Looks at a page as it is held in a wet hand in the sun: contrast of words, size of what is touched.
(() => {
  const luminance = (colour) => {
    const [r, g, b] = colour.map((c) => c / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const parts = (colour) => {
    const [r, g, b, a = 1] = colour.match(/[\d.]+/g).map(Number);
    return { rgb: [r, g, b], a };
  };
  const over = (top, a, below) => top.map((c, i) => c * a + below[i] * (1 - a));
  const ground = (element) => {
    const layers = [];
    for (let e = element; e; e = e.parentElement) {
      const { rgb, a } = parts(getComputedStyle(e).backgroundColor);
      if (a > 0) layers.push({ rgb, a });
      if (a === 1) break;
    }
    return layers.reverse().reduce((below, { rgb, a }) => over(rgb, a, below), [255, 255, 255]);
  };
  const seen = (e) => e.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true }) && !e.closest(".unseen,.skip");
  const words = (e) => (e.textContent || e.value || "").trim().replace(/\s+/g, " ").slice(0, 50);

  const contrasts = () => {
    const found = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const e = node.parentElement;
      if (!node.data.trim() || e.closest("script,style,svg,option,noscript,dialog:not([open])") || !seen(e)) continue;
      const { rgb, a } = parts(getComputedStyle(e).color);
      const below = ground(e);
      const [dark, light] = [luminance(over(rgb, a, below)), luminance(below)].sort((x, y) => x - y);
      found.push([(light + 0.05) / (dark + 0.05), `${e.tagName}.${e.className} ${node.data.trim().slice(0, 40)}`]);
    }
    return found.sort((x, y) => x[0] - y[0]).slice(0, 3);
  };

  // what is touched: a box inside a label is touched by its label; a link inside a sentence by its words
  const targets = (also) => {
    const found = [];
    for (const e of document.querySelectorAll("a[href],button,summary,select,textarea,input:not([type=hidden])")) {
      if (!seen(e)) continue;
      const touched = (/checkbox|radio|file/.test(e.type) && e.closest("label")) || e;
      const box = touched.getBoundingClientRect();
      if (!box.width || (!also && e.matches("p a, li a, dd a, td a"))) continue;
      if (box.height < 43.5 || box.width < 43.5) found.push(`${Math.round(box.width)}x${Math.round(box.height)} ${e.tagName} ${words(e)}`);
    }
    return found;
  };

  // rules that show or hide something only under a pointer, and things that want to be dragged
  const pointed = () => {
    const found = [...document.querySelectorAll("[draggable=true],[ondragstart],[onmouseover],[onmouseenter]")].map((e) => e.outerHTML.slice(0, 80));
    const look = (rules) => {
      for (const rule of rules) {
        if (rule.selectorText?.includes(":hover") && /display|visibility|opacity|content|height|clip/.test(rule.style.cssText)) found.push(rule.cssText);
        if (rule.style?.touchAction === "none") found.push(rule.cssText);
        if (rule.cssRules) look(rule.cssRules);
      }
    };
    for (const sheet of document.styleSheets) look(sheet.cssRules);
    return found;
  };

  // fields with a unit beside them, or with a number in them, that would open the keyboard of letters
  const letters = () =>
    [...document.querySelectorAll(".typed input, input[value]:not([type=hidden])")]
      .filter((f) => (f.closest(".typed") || (/^-?[\d.]+$/.test(f.value) && f.type === "text")) && !/decimal|numeric/.test(f.inputMode) && !f.dataset.numbers)
      .map((f) => f.name || f.id);

  return (also) => ({
    contrasts: contrasts(), targets: targets(also), pointed: pointed(), letters: letters(),
    wide: document.documentElement.scrollWidth,
  });
})();
