// Checks of a page that is open in a browser, after WCAG 2.2: every fault is a sentence. The value of this text is the list of them.
(() => {
  const faults = [];
  const tell = (e, what) => faults.push(`${what}: <${e.tagName.toLowerCase()}${e.id ? " id=" + e.id : ""}${e.className && e.className.baseVal === undefined ? " class=" + e.className : ""}> ${(e.textContent || "").trim().slice(0, 40)}`);
  for (const d of document.querySelectorAll("details")) d.open = true;
  const seen = (e) => {
    const box = e.getBoundingClientRect(), style = getComputedStyle(e);
    return box.width > 0 && box.height > 0 && style.visibility !== "hidden" && style.display !== "none" && e.checkVisibility();
  };
  const clipped = (e) => e.closest(".unseen, .skip, .half-label") && e.closest(".unseen, .skip, .half-label").getBoundingClientRect().width <= 2;
  const named = (e) => {
    const by = e.getAttribute("aria-labelledby");
    if (by) return by.split(/\s+/).map((id) => (document.getElementById(id) || {}).textContent || "").join(" ").trim();
    if (e.getAttribute("aria-label")) return e.getAttribute("aria-label");
    if (e.labels && e.labels.length) return [...e.labels].map((l) => l.textContent).join(" ").trim();
    if (e.tagName === "IMG") return e.alt;
    return e.matches("input, select, textarea") ? "" : (e.textContent + [...e.querySelectorAll("img")].map((i) => i.alt).join("")).trim();
  };

  // 1.3.1, 2.4.6, 3.3.2, 4.1.2: names
  for (const e of document.querySelectorAll("input:not([type=hidden]), select, textarea, button, a[href], summary, [role=region], nav")) if (!named(e)) tell(e, "has no name");
  for (const e of document.querySelectorAll("img")) if (!e.hasAttribute("alt")) tell(e, "has no alternative text");
  for (const e of document.querySelectorAll("svg[role=img]")) if (!named(e)) tell(e, "has no name");
  for (const e of document.querySelectorAll("svg:not([role]):not([aria-hidden])")) if (!e.parentElement.closest("svg")) tell(e, "is neither named nor hidden");
  for (const e of document.querySelectorAll("fieldset")) if (!e.querySelector(":scope > legend")) tell(e, "has no legend");
  for (const e of document.querySelectorAll("table")) {
    if (!e.caption) tell(e, "has no caption");
    for (const th of e.querySelectorAll("th")) if (!th.scope) tell(th, "has no scope");
  }
  const names = [...document.querySelectorAll("main input:not([type=hidden]):not([type=radio]), main select, main textarea")].map(named);
  for (const e of document.querySelectorAll("[aria-describedby]")) for (const id of e.getAttribute("aria-describedby").trim().split(/\s+/)) if (!document.getElementById(id)) tell(e, "is described by " + id + ", which is not there");
  for (const e of document.querySelectorAll("[aria-invalid=true]")) if (!/\be-|\bce-/.test(e.getAttribute("aria-describedby") || "")) tell(e, "is marked wrong without a word");
  const ids = [...document.querySelectorAll("[id]")].map((e) => e.id);
  for (const id of new Set(ids.filter((x, i) => ids.indexOf(x) !== i))) faults.push("the id stands twice: " + id);

  // 1.3.1, 2.4.1, 2.4.2, 3.1.1: order and landmarks
  if (!document.documentElement.lang) faults.push("the page has no language");
  if (!document.title.trim()) faults.push("the page has no title");
  for (const [what, count] of [["main", 1], ["body > header", 1], ["h1", 1]]) if (document.querySelectorAll(what).length !== count) faults.push(`the page has ${document.querySelectorAll(what).length} ${what}, want ${count}`);
  let level = 0;
  for (const h of document.querySelectorAll("h1, h2, h3, h4, h5, h6")) {
    const now = Number(h.tagName[1]);
    if (now > level + 1) tell(h, "leaves out a level of heading");
    level = now;
  }
  for (const e of document.querySelectorAll("[tabindex]")) if (e.tabIndex > 0) tell(e, "has an order of its own");

  // 1.4.3, 1.4.11: contrast
  const numbers = (text) => (text.match(/[\d.]+/g) || []).map(Number);
  const over = (top, below) => { const a = top[3] === undefined ? 1 : top[3]; return [0, 1, 2].map((i) => top[i] * a + below[i] * (1 - a)); };
  const ground = (e) => {
    const layers = [];
    for (let at = e; at; at = at.parentElement) {
      const c = numbers(getComputedStyle(at).backgroundColor);
      if (c.length === 3 || c[3] > 0) { layers.push(c); if (c.length === 3 || c[3] === 1) break; }
    }
    return layers.reverse().reduce((below, c) => over(c, below), [255, 255, 255]);
  };
  const light = (c) => { const [r, g, b] = c.map((v) => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const judged = new Set();
  for (let n = walker.nextNode(); n; n = walker.nextNode()) {
    const e = n.parentElement;
    if (!n.textContent.trim() || judged.has(e) || e.matches("script, option, optgroup, datalist *") || !seen(e) || clipped(e) || e.closest(":disabled")) continue;
    judged.add(e);
    const style = getComputedStyle(e), inSVG = e.namespaceURI.endsWith("svg");
    let ink = numbers(inSVG ? style.fill : style.color), paper = ground(inSVG ? e.closest("svg[role], svg[aria-hidden]").parentElement : e);
    if (inSVG && e.matches(".in")) paper = numbers(getComputedStyle(e.parentElement.querySelector(".tube")).fill);
    const size = parseFloat(style.fontSize), large = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700);
    const found = ratio(over(ink, paper), paper);
    if (found < (large ? 3 : 4.5)) tell(e, `has a contrast of ${found.toFixed(2)}, want ${large ? 3 : 4.5}`);
  }
  for (const e of document.querySelectorAll("main input[type=text], main select")) {
    if (!seen(e)) continue;
    const edge = numbers((getComputedStyle(e.closest(".entry") || e).boxShadow.match(/rgba?\([^)]*\)/) || ["rgb(0,0,0)"])[0]);
    const found = ratio(edge, ground((e.closest(".entry") || e).parentElement));
    if (found < 3) tell(e, `has an edge with a contrast of ${found.toFixed(2)}, want 3`);
  }

  // 1.4.10: no scrolling sideways
  const width = document.documentElement.clientWidth; // a phone's innerWidth grows with what sticks out
  if (document.documentElement.scrollWidth > width) {
    faults.push(`the page is ${document.documentElement.scrollWidth} wide in a window of ${width}`);
    for (const e of document.querySelectorAll("body *")) if (e.getBoundingClientRect().right > width + 1 && seen(e) && !e.closest(".roll, textarea, svg, .lines, .skip")) { tell(e, "sticks out"); break; }
  }

  // 2.5.5: what is tapped on a phone
  if (width < 600) for (const e of document.querySelectorAll("button, input:not([type=hidden]), select, textarea, summary, nav a, a.button, .views a, .faults a")) {
    if (!seen(e) || clipped(e)) continue;
    const target = e.matches("[type=radio]") ? e.closest("label") : e, box = target.getBoundingClientRect();
    if (box.height < 43.5 || box.width < 43.5) tell(e, `is ${box.width.toFixed(0)} by ${box.height.toFixed(0)}, want 44 by 44`);
  }
  return faults;
})()
