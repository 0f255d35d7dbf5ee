// Lets the proof follow the readings, and a tap on the plan open a station. Without it the buttons do both.
"use strict";

let proving = null;

// prove fetches what the readings prove, as soon as they are kept; a newer request takes the place of one under way.
async function prove() {
  const proof = document.getElementById("proof");
  if (!proof) return;
  if (proving) proving.abort();
  const mine = (proving = new AbortController());
  proof.classList.add("stale");
  proof.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch("/stations?prove=1", { signal: mine.signal });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.getElementById("proof");
    if (mine !== proving) return;
    if (fresh) proof.replaceChildren(...document.adoptNode(fresh).childNodes);
    else proof.querySelector("p").textContent = (page.getElementById("refusal") || proof).textContent;
    const origin = page.getElementById("origin");
    if (origin) document.getElementById("origin").textContent = origin.textContent; // the readings are inputs of a proof
    proof.classList.remove("stale");
    proof.removeAttribute("aria-busy");
  } catch (e) {
    if (e.name !== "AbortError") proof.removeAttribute("aria-busy");
  }
}

const readings = document.getElementById("readings");
if (readings) {
  readings.querySelector("[name=prove]").remove(); // the proof is fetched apart
  // every answer brings a new digest: then the readings are kept
  new MutationObserver(() => prove()).observe(document.querySelector(".bar"), { childList: true, subtree: true, characterData: true });
  if (document.querySelector(".stations li.done") && !new URLSearchParams(location.search).has("prove")) prove();
}

// go opens the box of a station.
function go(id) {
  const box = document.getElementById(id);
  if (!box) return;
  box.focus({ preventScroll: true });
  box.scrollIntoView({ block: "center" });
}

document.addEventListener("click", (e) => {
  const mark = e.target.closest(".stations-plan a");
  if (!mark) return;
  e.preventDefault();
  go(mark.getAttribute("href").slice(1));
});
