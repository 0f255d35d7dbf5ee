// Makes the page answer while one types. Without it every form still works by its button.
"use strict";

const busy = document.getElementById("busy");
let running = null; // the request under way; a newer one of the same form takes its place, one of another form waits for it
const waiting = new Set(); // forms in which something was typed that is not sent yet
const typed = new Set(); // boxes in which something was typed since the last request
let timer = 0;
let order = 0; // of the requests, so that none that was overtaken counts
let gesture = 0; // counts what is one step to undo: what is typed in one go into one box
let forced = false; // the box that has the focus takes what came too

// send posts a form as its button would, and puts what comes back in the places of the page that are marked data-live.
async function send(form, button, more) {
  waiting.delete(form);
  while (running && running.form !== form) await running.done;
  if (running) running.abort();
  const mine = (running = new AbortController());
  mine.form = form;
  let finished;
  mine.done = new Promise((done) => (finished = done));
  const data = new FormData(form, button);
  for (const [key, value] of Object.entries(more || {})) data.set(key, value);
  data.set("order", String(++order));
  typed.clear();
  const action = form.getAttribute("action");
  const body = form.enctype === "multipart/form-data" ? data : new URLSearchParams(data);
  busy.textContent = "working …";
  document.documentElement.classList.add("working");
  try {
    const answer = await fetch(action, { method: "POST", body, signal: mine.signal });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const seen = page.querySelector("input[name=revision]");
    const refusal = page.getElementById("refusal");
    if (refusal) {
      busy.textContent = refusal.textContent;
      return;
    }
    if (form.dataset.fetch === "try") {
      put(page, document.getElementById("tried"));
    } else {
      const here = document.body.className, there = page.body.className;
      if (here !== there) {
        stayWithin();
        location.assign(answer.url);
        return;
      }
      document.title = page.title;
      forced = action === "/undo";
      tellClash(page);
      // the answer's side comes or goes as a whole, before anything is taken out of the page that came
      if (shape(page) !== shape(document)) replaceLight(page);
      else freshSliders(page);
      for (const old of [...document.querySelectorAll("[data-live]")]) put(page, old);
      forced = false;
    }
    if (seen) sign(seen.value);
    if (form.enctype === "multipart/form-data") form.reset();
    busy.textContent = "";
  } catch (e) {
    if (e.name !== "AbortError") busy.textContent = "No answer: is lampswap still running?";
  } finally {
    if (running === mine) {
      running = null;
      document.documentElement.classList.remove("working");
      document.dispatchEvent(new Event("answered"));
    }
    finished();
  }
}

// sign lets the forms say what this page has seen. The name of the tab stays.
const tab = (document.querySelector("input[name=tab]") || {}).value;
function sign(revision) {
  for (const i of document.querySelectorAll("input[name=revision]")) i.value = revision;
  for (const i of document.querySelectorAll("input[name=tab]")) i.value = tab;
}

// tellClash shows that another tab was faster; that stays until it is answered.
function tellClash(page) {
  const fresh = page.querySelector("#clash > *"), place = document.getElementById("clash");
  if (!fresh || !place) return;
  place.replaceChildren(document.importNode(fresh, true));
  place.scrollIntoView({ block: "nearest" });
}

// shape tells which parts the answer's side has.
function shape(page) {
  return [...page.querySelectorAll(".light [id][data-live], .light form")].map((e) => e.id).join();
}

// replaceLight swaps all of the answer's side where it came or went as a whole.
function replaceLight(page) {
  const old = document.querySelector(".light"), fresh = page.querySelector(".light");
  if (!old || !fresh) return;
  keepOpen(old, fresh);
  old.replaceWith(document.importNode(fresh, true)); // a copy: the page that came stays whole
}

// freshSliders puts the sliders back to what the job says now.
function freshSliders(page) {
  const old = document.getElementById("try-form"), fresh = page.getElementById("try-form");
  if (old && fresh && !old.contains(document.activeElement)) old.replaceWith(document.importNode(fresh, true));
}

// put takes the element of the same id from a page that came; without one there, the old one goes empty.
function put(page, old) {
  const fresh = page.getElementById(old.id);
  if (!fresh || old.dataset.held !== undefined) return;
  keepOpen(old, fresh);
  morph(old, document.adoptNode(fresh));
}

// keepOpen carries over what is folded and what is not.
function keepOpen(old, fresh) {
  keepView(fresh);
  for (const d of fresh.querySelectorAll("details[id]")) {
    const was = old.querySelector("#" + CSS.escape(d.id));
    if (was && !d.querySelector(".bad")) d.open = was.open;
  }
}

// keepView carries over how somebody looks at the page: what is no part of the job.
function keepView(fresh) {
  for (const box of fresh.querySelectorAll("[data-view]")) {
    const was = document.getElementById(box.id);
    if (!was) continue;
    if (box.type === "radio") {
      if (was.checked) box.checked = true;
    } else if ([...box.options].some((o) => o.value === was.value)) {
      box.value = was.value;
    }
  }
}

// morph makes old look like fresh without touching the box that somebody types in, nor a map before its successor is there.
function morph(old, fresh) {
  if (old.tagName === "IMG" && old.id === fresh.id) {
    if ((old.next || old.getAttribute("src")) !== fresh.getAttribute("src")) later(old, fresh);
    return;
  }
  if (old.tagName === "image" && old.id === fresh.id) {
    const href = fresh.getAttribute("href");
    if (href === old.getAttribute("href") || getComputedStyle(old).display === "none") {
      for (const a of fresh.attributes) old.setAttribute(a.name, a.value);
      return;
    }
    const ready = new Image();
    old.next = href;
    ready.onload = ready.onerror = () => {
      if (old.next === href) for (const a of fresh.attributes) old.setAttribute(a.name, a.value);
    };
    ready.src = href;
    return;
  }
  const box = !old.hasAttribute("data-view") && old.matches("input:not([type=radio]):not([type=range]):not([type=file]), select, textarea") && old.tagName === fresh.tagName;
  const value = box && fresh.value;
  morphParts(old, fresh);
  if (box && old.isConnected && !typed.has(old) && (forced || old !== document.activeElement) && old.value !== value) old.value = value;
}

function morphParts(old, fresh) {
  const active = old.contains(document.activeElement);
  const pictures = !!old.querySelector("img[id], image[id]");
  if (!active && !pictures) {
    old.replaceWith(fresh);
    return;
  }
  for (const a of [...old.attributes]) if (!fresh.hasAttribute(a.name)) old.removeAttribute(a.name);
  for (const a of fresh.attributes) if (a.name !== "value" && a.name !== "open" && old.getAttribute(a.name) !== a.value) old.setAttribute(a.name, a.value);
  if (old === document.activeElement) return;
  const olds = [...old.children], news = [...fresh.children];
  const same = olds.length === news.length && olds.every((o, i) => o.tagName === news[i].tagName && o.id === news[i].id);
  if (same && (olds.length || old.textContent === fresh.textContent)) {
    olds.forEach((o, i) => morph(o, news[i]));
    return;
  }
  if (!active) {
    old.replaceChildren(...fresh.childNodes);
    return;
  }
  merge(old, news);
}

// merge matches children by id or place, so that the one with the focus stays.
function merge(old, news) {
  const focused = [...old.children].find((o) => o.contains(document.activeElement));
  const at = news.findIndex((n) => n.tagName === focused.tagName && (focused.id ? n.id === focused.id : sameStart(n, focused)));
  const id = document.activeElement.id;
  if (at < 0) {
    old.replaceChildren(...news);
    const again = id && document.getElementById(id);
    if (again) again.focus();
    return;
  }
  for (const child of [...old.childNodes]) if (child !== focused) child.remove();
  focused.before(...news.slice(0, at));
  focused.after(...news.slice(at + 1));
  morph(focused, news[at]);
}

function sameStart(a, b) {
  const x = a.querySelector("[id]") || a, y = b.querySelector("[id]") || b;
  return x.id === y.id && a.className.split(" ")[0] === b.className.split(" ")[0];
}

// later shows the next map when it is there, unless a newer one is on its way by then.
function later(old, fresh) {
  const src = fresh.getAttribute("src");
  old.next = src;
  if (Math.abs(old.getBoundingClientRect().top) > 2 * innerHeight || !old.checkVisibility()) { // nobody sees it: the browser draws it when somebody does
    const source = old.closest("picture").querySelector("source"), next = fresh.closest("picture") && fresh.closest("picture").querySelector("source");
    if (source && next) source.srcset = next.srcset;
    for (const name of ["src", "alt", "width", "height"]) old.setAttribute(name, fresh.getAttribute(name));
    return;
  }
  const picture = old.closest("picture"), next = fresh.closest("picture");
  const ready = new Image();
  const source = next && next.querySelector("source");
  const narrow = source && matchMedia(source.media).matches;
  ready.onload = ready.onerror = () => {
    if (old.next !== src) return;
    if (source) picture.querySelector("source").srcset = source.srcset;
    for (const name of ["src", "alt", "width", "height"]) old.setAttribute(name, fresh.getAttribute(name));
  };
  ready.src = narrow ? source.srcset : src;
}

// typing is what a request says of a box in which somebody types.
function typing(form) {
  const at = document.activeElement;
  return at && at.form === form ? { gesture: gesture + " " + at.id.slice(0, 30) } : {};
}

function soon(form, wait) {
  waiting.add(form);
  clearTimeout(timer);
  timer = setTimeout(flush, wait);
}

// flush sends what waits, one form after the other.
async function flush() {
  clearTimeout(timer);
  for (const form of [...waiting]) await send(form, null, typing(form));
}

document.addEventListener("input", (e) => {
  const form = e.target.form;
  if (!form || e.target.type === "file" || e.target.type === "radio") return;
  typed.add(e.target);
  if (form.id === "try-form") {
    name(e.target);
    soon(form, 30);
  } else if (form.id === "text-form") {
    e.target.rows = e.target.value.split("\n").length + 1;
    soon(form, 150);
  } else if (form.id === "readings") {
    if (e.target.id === "system" || e.target.id === "places") send(form).then(() => location.reload());
    else soon(form, 400);
  } else if (form.id === "job-form") {
    soon(form, e.target.tagName === "SELECT" ? 0 : 120);
  }
});

// name says what a slider stands at.
function name(slider) {
  const shown = document.getElementById("o-" + slider.name);
  if (!shown) return;
  let text = slider.value;
  if (slider.dataset.names) text = slider.dataset.names.split("|")[slider.value];
  else if (slider.dataset.unit) text += " " + slider.dataset.unit;
  else text = Number(text).toFixed(2);
  shown.textContent = text;
  slider.setAttribute("aria-valuetext", text);
}

document.addEventListener("submit", (e) => {
  const how = e.target.dataset.fetch;
  if (!how || how === "page" || (e.submitter && e.submitter.getAttribute("formaction"))) { // these load the page anew, as without script
    if (!waiting.size) return;
    e.preventDefault();
    flush().then(() => e.target.requestSubmit(e.submitter));
    return;
  }
  e.preventDefault();
  send(e.target, e.submitter);
});

// What was typed goes along before the page is left.
document.addEventListener("click", (e) => {
  const link = e.target.closest("a[href]");
  if (!link || !waiting.size || e.button || e.ctrlKey || e.metaKey || e.shiftKey || link.getAttribute("href").startsWith("#")) return;
  e.preventDefault();
  flush().then(() => location.assign(link.href));
});

document.addEventListener("focusin", () => gesture++);

document.addEventListener("keydown", (e) => {
  const form = document.getElementById("undo");
  const key = e.key.toLowerCase();
  if (form && (e.ctrlKey || e.metaKey) && !e.altKey && (key === "z" || key === "y")) {
    e.preventDefault();
    step(key === "y" || e.shiftKey ? "redo" : "undo");
  } else if (e.key === "Enter" && e.target.getAttribute && e.target.getAttribute("enterkeyhint") === "next") {
    e.preventDefault();
    const boxes = [...e.target.form.querySelectorAll("[enterkeyhint=next]")];
    const next = boxes[boxes.indexOf(e.target) + 1];
    if (next) {
      next.focus();
      next.select();
    } else {
      flush();
    }
  }
});

// step takes the last change back, or makes it again, after what was typed is sent.
async function step(which) {
  await flush();
  while (running) await running.done;
  const form = document.getElementById("undo");
  const button = form.querySelector(`[value=${which}]`);
  if (!button.disabled) await send(form, button);
  gesture++;
}

// Who leaves with a job that is nowhere but here is asked first; within the page it goes along.
let within = false;
document.addEventListener("click", (e) => {
  const link = e.target.closest("a[href]");
  if (link && (link.hasAttribute("download") || link.origin === location.origin)) stayWithin();
});
document.addEventListener("submit", stayWithin);
function stayWithin() {
  within = true;
  setTimeout(() => (within = false), 2000);
}
addEventListener("beforeunload", (e) => {
  if (within || !navigator.userActivation || !navigator.userActivation.hasBeenActive || !document.querySelector("#unsaved b")) return;
  e.preventDefault();
});

const drop = document.getElementById("drop");
if (drop) {
  const inside = (on) => drop.classList.toggle("over", on);
  addEventListener("dragover", (e) => {
    e.preventDefault();
    inside(true);
  });
  addEventListener("dragleave", (e) => {
    if (!e.relatedTarget) inside(false);
  });
  addEventListener("drop", (e) => {
    e.preventDefault();
    inside(false);
    if (!e.dataTransfer.files.length) return;
    document.getElementById("light-files").files = e.dataTransfer.files;
    send(drop);
  });
}

import("./take.js");
import("./alive.js");
if (document.getElementById("readings")) import("./stations.js");
