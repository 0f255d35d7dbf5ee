// Lets one take hold of what stands and hangs on the plan, and tells the light at a place. Without it the plan is a picture, with a form.
"use strict";

const plan = {
  chosen: "", // the thing that is taken hold of, by its path in the job
  drag: null, // the pull under way
  pulls: 0,
  at: null, // the point of the grid of which the light is told: column and row
  values: new Map(), // by address
};

const by = (id) => document.getElementById(id);
const sheet = () => by("plan-svg");
const shown = () => (document.querySelector("input[name=of]:checked") || { value: "0" }).value;
const svgElement = (name, attributes) => {
  const e = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) e.setAttribute(key, value);
  return e;
};

// place is where an event is on a drawing, in the job's units, y upward, and how many of these a pixel is.
function place(e, svg) {
  const m = svg.getScreenCTM().inverse();
  const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
  return { x: p.x, y: Number(svg.dataset.width) - p.y, pixel: m.a };
}

// partsOf are all the elements of a thing; headOf is the one that is its own.
const partsOf = (id) => [...document.querySelectorAll(`#plan-svg [data-id="${CSS.escape(id)}"]`)];
const headOf = (id) => partsOf(id).find((e) => e.dataset.x !== undefined && !e.dataset.share) || partsOf(id).find((e) => e.dataset.x !== undefined);

// choose takes hold of a thing: it is marked, its handles are shown, and the form is about it.
function choose(id, focus) {
  plan.chosen = id;
  mark();
  const head = headOf(id);
  if (focus && head) head.focus({ preventScroll: true });
}

// mark shows what is chosen, after every answer anew.
function mark() {
  const svg = sheet(), select = by("plan-thing");
  if (!svg || !select) return;
  svg.setAttribute("role", "application");
  const option = [...select.options].find((o) => o.value === plan.chosen);
  if (!option) plan.chosen = "";
  select.value = plan.chosen;
  const head = plan.chosen && headOf(plan.chosen);
  const above = head && head.dataset.of ? head.dataset.of : plan.chosen;
  for (const e of svg.querySelectorAll("[data-id]")) {
    e.classList.toggle("on", !!plan.chosen && (e.dataset.id === plan.chosen || e.dataset.id === above));
    e.classList.toggle("handle-on", !!plan.chosen && e.dataset.of === above);
    if (!plan.drag) e.removeAttribute("transform");
  }
  const first = head || svg.querySelector("[data-x]:not(.wall)");
  for (const e of svg.querySelectorAll("[data-id][tabindex]")) if (e !== first) e.removeAttribute("tabindex");
  if (first) {
    first.setAttribute("tabindex", "0");
    first.setAttribute("role", "button");
    first.setAttribute("aria-label", `${first.dataset.name}, at ${first.dataset.x}, ${first.dataset.y}`);
  }
  if (document.activeElement !== by("plan-x")) by("plan-x").value = option && plan.chosen ? option.dataset.x : "";
  if (document.activeElement !== by("plan-y")) by("plan-y").value = option && plan.chosen ? option.dataset.y : "";
}

// told writes a length as a tape has it.
function told(x) {
  if (sheet().dataset.unit !== "ft") return x.toFixed(2) + " m";
  const inches = Math.round(Math.abs(x) * 12);
  return `${x < 0 && inches ? "-" : ""}${Math.floor(inches / 12)}′${inches % 12}″`;
}

const numbersOf = (text) => text.split(" ").map(Number);

// target is where a thing is to go that is pulled by so much: on the tape, or in line with what is beside, and in the room.
function target(d, dx, dy, pixel, free) {
  const step = Number(by("plan-snap").value), svg = sheet();
  const room = [Number(svg.dataset.length), Number(svg.dataset.width)];
  const box = numbersOf(d.head.dataset.box);
  const out = [], lines = [];
  for (const axis of [0, 1]) {
    const from = [d.x, d.y][axis];
    let to = from + [dx, dy][axis];
    to = Math.round(to / step) * step;
    if (!free) {
      let best = Math.min(8 * pixel, 1.5 * step);
      for (const edge of [box[axis] - from, box[axis + 2] - from, (box[axis] + box[axis + 2]) / 2 - from]) {
        for (const line of d.lines[axis]) {
          const off = Math.abs(from + [dx, dy][axis] + edge - line);
          if (off < best) {
            best = off;
            to = line - edge;
            lines[axis] = line;
          }
        }
      }
    }
    if (!["wall", "corner", "spacing"].includes(d.head.dataset.kind)) to = Math.min(Math.max(to, from - box[axis]), from + room[axis] - box[axis + 2]);
    out.push(to);
  }
  return { x: out[0], y: out[1], lines };
}

// linesOf are the places along x and y with which a thing can come into line: the edges and middles of all others.
function linesOf(id) {
  const lines = [new Set(), new Set()];
  for (const e of document.querySelectorAll("#plan-svg [data-box]")) {
    if (e.dataset.id === id || e.dataset.of === id || e.dataset.share || lines[0].size > 800) continue;
    const b = numbersOf(e.dataset.box);
    for (const axis of [0, 1]) for (const at of [b[axis], b[axis + 2], (b[axis] + b[axis + 2]) / 2]) lines[axis].add(at);
  }
  return lines;
}

addEventListener("pointerdown", (e) => {
  const svg = e.target.closest && e.target.closest(".plan-svg");
  if (!svg || e.button) return;
  const hit = e.target.closest("[data-id]");
  if (!hit || svg.id !== "plan-svg") {
    tellAt(e, svg, true);
    if (svg.id === "plan-svg" && e.target.id !== "cross") choose("");
    return;
  }
  const id = hit.dataset.id, p = place(e, svg), held = isHeld(hit);
  choose(id, true);
  const head = headOf(id);
  if (e.pointerType !== "mouse") tellAt(e, svg, true);
  if (!head || (e.pointerType === "touch" && !held)) return;
  e.preventDefault();
  if (e.pointerType === "mouse") hit.setPointerCapture(e.pointerId);
  plan.drag = { id, head, pointer: e.pointerId, fromX: p.x, fromY: p.y, x: Number(head.dataset.x), y: Number(head.dataset.y), share: Number(hit.dataset.share) || 1, moved: false, lines: linesOf(id) };
  by("plan").dataset.held = "";
});

// A finger chooses first and pulls then: whoever swipes over the plan scrolls the page, and moves nothing.
const isHeld = (e) => e.matches(".on, .handle-on") || e.dataset.id === plan.chosen;
document.addEventListener("touchstart", (e) => {
  const hit = e.target.closest && e.target.closest("#plan-svg [data-id]");
  if (hit && isHeld(hit) && e.touches.length === 1) e.preventDefault();
}, { passive: false });

addEventListener("pointermove", (e) => {
  const d = plan.drag;
  if (!d || e.pointerId !== d.pointer) {
    const svg = !d && e.pointerType === "mouse" && e.target.closest && e.target.closest(".plan-svg");
    if (svg) tellAt(e, svg, false);
    return;
  }
  const p = place(e, sheet());
  const dx = (p.x - d.fromX) / d.share, dy = (p.y - d.fromY) / d.share;
  if (!d.moved && Math.hypot(dx, dy) * d.share < 4 * p.pixel) return;
  d.moved = true;
  d.to = target(d, dx, dy, p.pixel, e.altKey);
  preview(d, p.pixel);
});

function letGo(e, drop) {
  const d = plan.drag;
  if (!d || e.pointerId !== d.pointer) return;
  plan.drag = null;
  delete by("plan").dataset.held;
  by("plan-ghost").replaceChildren();
  if (drop && d.moved && d.to && (d.to.x !== d.x || d.to.y !== d.y)) post("move", d.id, d.to.x, d.to.y, "pull " + ++plan.pulls);
  else mark();
}
addEventListener("pointerup", (e) => letGo(e, true));
addEventListener("pointercancel", (e) => letGo(e, false));

// preview shows a pull: what moves as a whole moves, anything else is drawn as it will be, and lengths stand beside it.
function preview(d, pixel) {
  const ghost = by("plan-ghost"), svg = sheet(), width = Number(svg.dataset.width), length = Number(svg.dataset.length), kind = d.head.dataset.kind;
  const dx = d.to.x - d.x, dy = d.to.y - d.y, box = numbersOf(d.head.dataset.box);
  const parts = [];
  const whole = ["rack", "hanging", "area", "face", "group", "together", "single", "observer"].includes(kind);
  const rect = (x0, y0, x1, y1) => parts.push(svgElement("rect", { class: "ghost", x: Math.min(x0, x1), y: width - Math.max(y0, y1), width: Math.abs(x1 - x0), height: Math.abs(y1 - y0) }));
  const line = (x0, y0, x1, y1, c) => parts.push(svgElement("line", { class: c, x1: x0, y1: width - y0, x2: x1, y2: width - y1 }));
  for (const e of document.querySelectorAll("#plan-svg [data-id]")) {
    const mine = e.dataset.id === d.id, below = e.dataset.of === d.id;
    const share = Number(e.dataset.share) || 1;
    if (whole && !d.head.dataset.share && (mine || below)) e.setAttribute("transform", `translate(${dx} ${-dy})`);
    if (d.head.dataset.share && mine) e.setAttribute("transform", `translate(${dx * share} ${-dy * share})`);
  }
  const words = [];
  if (kind === "size" || kind === "near") {
    const of = headOf(d.head.dataset.of), b = of ? numbersOf(of.dataset.box) : box;
    const first = of && of.tagName === "rect" ? [Number(of.getAttribute("x")), width - Number(of.getAttribute("y")) - Number(of.getAttribute("height")), 0, 0] : b;
    const fixed = kind === "near" ? [b[2], b[3]] : [first[0], first[1]];
    rect(fixed[0], fixed[1], d.to.x, d.to.y);
    words.push(`${told(Math.abs(d.to.x - fixed[0]))} × ${told(Math.abs(d.to.y - fixed[1]))}`);
  } else if (kind === "wall") {
    const b = box.map((v, i) => v + (box[0] === box[2] ? (i % 2 ? 0 : dx) : i % 2 ? dy : 0));
    line(b[0], b[1], b[2], b[3], "ghost-line");
    words.push(box[0] === box[2] ? `x ${told(d.to.x)}` : `y ${told(d.to.y)}`);
  } else if (kind === "spacing") {
    const count = (extent, moved, n) => Math.min(Math.max(Math.round(extent / Math.max(extent / n + moved, extent / 500)), 1), 500);
    const columns = count(box[2] - box[0], dx, Number(d.head.dataset.columns)), rows = count(box[3] - box[1], dy, Number(d.head.dataset.rows));
    const sx = (box[2] - box[0]) / columns, sy = (box[3] - box[1]) / rows;
    for (let i = 0; i < columns && i < 60; i++) for (let j = 0; j < rows && j < 60; j++) line(box[0] + (i + 0.5) * sx, box[1] + (j + 0.5) * sy, box[0] + (i + 0.5) * sx, box[1] + (j + 0.5) * sy, "ghost-dot");
    words.push(`${rows} rows of ${columns}`, `${told(sx)} × ${told(sy)} apart`);
  } else {
    words.push(`x ${told(d.to.x)}  y ${told(d.to.y)}`);
    if (d.head.dataset.share || kind === "next") words.push("from one to the next");
    else if (kind === "single" || box[2] > box[0]) words.push(`to the walls ${told(length - box[2] - dx)}, ${told(width - box[3] - dy)}`);
    if (kind === "corner") line(0, d.to.y, length, d.to.y, "ghost-line"), line(d.to.x, 0, d.to.x, width, "ghost-line");
    line(0, d.to.y, d.to.x, d.to.y, "dimension");
    line(d.to.x, 0, d.to.x, d.to.y, "dimension");
  }
  if (d.to.lines[0] !== undefined) line(d.to.lines[0], 0, d.to.lines[0], width, "in-line");
  if (d.to.lines[1] !== undefined) line(0, d.to.lines[1], length, d.to.lines[1], "in-line");
  words.forEach((text, i) => {
    const size = 13 * pixel, right = d.to.x > length * 0.6;
    const t = svgElement("text", { class: "ghost-words", x: d.to.x + (right ? -1 : 1) * 14 * pixel, y: Math.min(Math.max(width - d.to.y - 12 * pixel - (words.length - 1 - i) * 1.3 * size, size * (1 + 1.3 * i)), width - 4 * pixel), "font-size": size, "text-anchor": right ? "end" : "start", "stroke-width": 3 * pixel });
    t.textContent = text;
    parts.push(t);
  });
  ghost.replaceChildren(...parts);
  d.words = words.join(", ");
}

// post sends an edit of the plan as its form would.
function post(what, id, x, y, gesture) {
  const form = by("plan-form");
  const more = { do: what, thing: id, gesture };
  if (x !== undefined) Object.assign(more, { x: tidy(x), y: tidy(y) });
  else Object.assign(more, { x: "", y: "" });
  return flush().then(() => send(form, null, more));
}
const tidy = (x) => String(Math.round(x * 1e6) / 1e6);

// Arrow keys: what is taken hold of moves by an inch, with Shift by a tape step; what is typed fast is one step to undo.
let nudged = { id: "", at: 0, x: 0, y: 0, n: 0 };
function nudge(head, ways, e) {
  const svg = sheet(), now = Date.now(), id = head.dataset.id;
  const step = e.shiftKey ? Number(by("plan-snap").value) : Number(svg.dataset.nudge);
  if (nudged.id !== id || now - nudged.at > 1500) nudged = { id, x: Number(head.dataset.x), y: Number(head.dataset.y), n: nudged.n + 1 };
  nudged.at = now;
  if (head.dataset.kind === "spacing") {
    const b = numbersOf(head.dataset.box), columns = Number(head.dataset.columns), rows = Number(head.dataset.rows);
    const next = (extent, n, way) => (way ? extent / Math.max(n - way, 1) - extent / n : 0);
    nudged.x = Number(head.dataset.x) + next(b[2] - b[0], columns, ways[0]);
    nudged.y = Number(head.dataset.y) + next(b[3] - b[1], rows, ways[1]);
  } else {
    nudged.x += ways[0] * step;
    nudged.y += ways[1] * step;
  }
  const dx = nudged.x - Number(head.dataset.x), dy = nudged.y - Number(head.dataset.y);
  for (const part of partsOf(id)) if (head.dataset.kind !== "spacing") part.setAttribute("transform", `translate(${dx} ${-dy})`);
  say(`x ${told(nudged.x)}, y ${told(nudged.y)}`);
  post("move", id, nudged.x, nudged.y, `keys ${nudged.n} ${id}`.slice(0, 40));
}

const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
document.addEventListener("keydown", (e) => {
  if (e.ctrlKey || e.metaKey || e.altKey || !e.target.closest) return;
  if (e.target.id === "cross") return moveCross(e);
  const head = e.target.closest("#plan-svg [data-id]");
  if (!head) return;
  const id = head.dataset.id;
  if (ways[e.key]) {
    choose(id, true);
    nudge(head, ways[e.key], e);
  } else if (e.key === "Delete" || e.key === "Backspace") {
    post("delete", id);
  } else if (e.key === "c" || e.key === "C") {
    post("copy", id);
  } else if (e.key === "Escape") {
    choose("");
  } else if (e.key === "PageDown" || e.key === "PageUp") {
    const all = [...document.querySelectorAll("#plan-thing option")].map((o) => o.value).filter((v) => v && headOf(v));
    const next = all[(all.indexOf(plan.chosen || id) + (e.key === "PageDown" ? 1 : all.length - 1)) % all.length];
    choose(plan.chosen ? next : id, true);
    const now = headOf(plan.chosen);
    if (now) say(`${now.dataset.name}, at x ${told(Number(now.dataset.x))}, y ${told(Number(now.dataset.y))}`);
  } else {
    return;
  }
  e.preventDefault();
});

document.addEventListener("change", (e) => {
  if (e.target.id === "plan-thing") choose(e.target.value);
  if (e.target.name === "of") tell();
});

// say puts a sentence where it is seen and heard.
function say(text) {
  const line = by("plan-value");
  if (line) line.textContent = text;
}

// valuesOf are the values of the grid that is shown; they are fetched once for each light.
async function valuesOf() {
  const line = by("plan-value");
  const address = line && line.getAttribute("data-values-" + shown());
  if (!address) return null;
  if (!plan.values.has(address)) {
    for (const key of [...plan.values.keys()].slice(0, Math.max(0, plan.values.size - 11))) plan.values.delete(key);
    plan.values.set(address, fetch(address).then((r) => (r.ok ? r.json() : null)).then((v) => {
      if (v) {
        v.Change = v.Change.split(" ");
        for (const s of v.Systems) s.Light = s.Light.split(" ");
      }
      return v;
    }).catch(() => null));
  }
  const v = await plan.values.get(address);
  if (!v) plan.values.delete(address);
  return v;
}

// tellAt tells the light at a place that is pointed at. What is only passed over is not read out.
async function tellAt(e, svg, loud) {
  const p = place(e, svg);
  const v = await valuesOf();
  const upright = svg.id !== "plan-svg";
  if (!v || v.Upright !== upright) return;
  const column = Math.round((p.x - v.X) / v.StepX), row = Math.round((p.y - v.Y) / v.StepY);
  if (column < -0.5 || row < -0.5 || column >= v.NX || row >= v.NY) return;
  plan.at = { column, row };
  by("plan-value").setAttribute("aria-live", loud ? "polite" : "off");
  tell();
}

// tell shows and says the light at the point, and puts the cross there.
async function tell() {
  const v = await valuesOf(), line = by("plan-value");
  if (!v || !line) return;
  const at = plan.at || { column: Math.floor(v.NX / 2), row: Math.floor(v.NY / 2) };
  at.column = Math.min(at.column, v.NX - 1);
  at.row = Math.min(at.row, v.NY - 1);
  const x = v.X + at.column * v.StepX, y = v.Y + at.row * v.StepY, k = at.row * v.NX + at.column;
  const svg = v.Upright ? by("elevation-svg-" + shown()) : sheet();
  if (!svg) return;
  const where = v.Upright ? `${told(x)} along, ${told(y)} up` : `x ${told(x)}, y ${told(y)}`;
  let words = `${where}: no light is worked out here, as inside a rack or outside the room`;
  if (v.Systems[0].Light[k] !== "-") {
    const light = v.Systems.map((s) => `${s.Name} ${s.Light[k]}`);
    words = `${where}: ${light.slice(0, 2).join(", ")} ${v.Unit}, ${v.Change[k]}`;
    for (const more of light.slice(2)) words += `, ${more} ${v.Unit}`;
    for (const r of v.Rules) {
      const yes = r.Point ? "met here" : r.AtLeast ? "as much here" : "no more here", no = r.Point ? "MISSED here" : r.AtLeast ? "less here" : "more here";
      const of = (bits, what) => `${what} ${bits[k] === "1" ? yes : no}`;
      words += `; ${r.Words}: ${v.Systems.map((s, i) => (s.NotKnown ? `${s.Name} NOT KNOWN` : of(r.Held[i], s.Name))).join(", ")}`;
    }
    if (!v.Rules.length) words += "; nothing is required of this grid";
    for (const s of v.Systems) if (s.NotKnown) words += `; the ${s.Name} light is not known: ${s.NotKnown}`;
  }
  if (!plan.at && !line.textContent) line.textContent = "Point or tap anywhere for the light there, or go from point to point with the cross and the arrow keys.";
  if (plan.at && !plan.drag) line.textContent = words + (document.querySelector("#plan-lights.stale") ? " (the last answer, of before the fault)" : "");
  drawCross(svg, v, x, y, plan.at ? words : "", k);
}

function drawCross(svg, v, x, y, words, k) {
  const home = svg.id === "plan-svg" ? by("plan-cursor") : svg.querySelector("[id^=elevation-cursor]");
  for (const other of document.querySelectorAll("#cross")) if (other.parentElement !== home) other.remove();
  const height = Number(svg.dataset.width), pixel = svg.getScreenCTM() ? svg.getScreenCTM().inverse().a : 0.1;
  const arm = 9 * pixel;
  let cross = by("cross");
  if (!cross) {
    cross = svgElement("g", { id: "cross", tabindex: "0", role: "slider", "aria-valuemin": "1" });
    home.append(cross);
  }
  cross.setAttribute("aria-label", "Light at a point of " + v.Name);
  cross.setAttribute("aria-valuemax", String(v.NX * v.NY));
  cross.setAttribute("aria-valuenow", String(k + 1));
  cross.setAttribute("aria-valuetext", words || "arrow keys go from point to point");
  cross.replaceChildren(svgElement("path", { d: `M${x - arm} ${height - y}h${2 * arm}M${x} ${height - y - arm}v${2 * arm}`, class: "cross-halo" }), svgElement("path", { d: `M${x - arm} ${height - y}h${2 * arm}M${x} ${height - y - arm}v${2 * arm}`, class: "cross" }));
}

// moveCross goes along a row, or up and down a column, point by point.
async function moveCross(e) {
  const way = ways[e.key];
  if (!way && e.key !== "Home" && e.key !== "End") return;
  e.preventDefault();
  const v = await valuesOf();
  if (!v) return;
  const at = plan.at || { column: Math.floor(v.NX / 2), row: Math.floor(v.NY / 2) };
  if (e.key === "Home") at.column = 0;
  if (e.key === "End") at.column = v.NX - 1;
  if (way) {
    at.column = Math.min(Math.max(at.column + way[0], 0), v.NX - 1);
    at.row = Math.min(Math.max(at.row + way[1], 0), v.NY - 1);
  }
  plan.at = at;
  by("plan-value").setAttribute("aria-live", "polite");
  tell();
}

// After every answer: what was just made is chosen, what is chosen is marked anew, and the light is told anew.
function refresh() {
  const card = by("plan");
  if (!card) return;
  const had = document.activeElement === document.body && plan.focused;
  if (card.dataset.made) {
    choose(card.dataset.made, true);
    card.dataset.made = "";
  } else {
    mark();
    if (had && plan.chosen && headOf(plan.chosen)) headOf(plan.chosen).focus({ preventScroll: true });
  }
  tell();
}
document.addEventListener("focusin", (e) => (plan.focused = !!e.target.closest("#plan-svg")));
document.addEventListener("answered", refresh);
refresh();
