// Says that a document is being made, and lets it be stopped. Without it the link downloads it all the same.
"use strict";

const making = new Set(); // addresses of documents that are being made
const place = document.createElement("div"); // apart from what an edit replaces
place.className = "takings";
document.body.append(place);

document.addEventListener("click", async (e) => {
  const link = e.target.closest("a[data-take]");
  if (!link || e.defaultPrevented || e.button || e.ctrlKey || e.metaKey || e.shiftKey) return;
  e.preventDefault();
  const address = link.href, what = link.dataset.take;
  if (making.has(address)) return;
  making.add(address);
  const stop = new AbortController();
  const state = document.createElement("span"), words = document.createElement("span"), button = document.createElement("button");
  state.className = "taking";
  state.setAttribute("role", "status");
  button.type = "button";
  button.className = "plain small";
  button.textContent = "Stop";
  button.addEventListener("click", () => stop.abort());
  state.append(words, " ", button);
  place.append(state);
  const began = Date.now();
  const tell = () => (words.textContent = what + ": working, " + Math.round((Date.now() - began) / 1000) + " s");
  tell();
  const clock = setInterval(tell, 1000);
  let said = "";
  try {
    const answer = await fetch(address, { signal: stop.signal });
    if (answer.ok) {
      const file = URL.createObjectURL(await answer.blob());
      const save = document.createElement("a");
      const name = /filename="?([^";]+)"?/.exec(answer.headers.get("Content-Disposition") || "");
      save.href = file;
      save.download = name ? name[1] : "";
      save.click();
      setTimeout(() => URL.revokeObjectURL(file), 60000);
    } else {
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      said = (page.getElementById("refusal") || page.body).textContent;
    }
  } catch (error) {
    said = error.name === "AbortError" ? "Stopped." : "No answer: is lampswap still running?";
  }
  clearInterval(clock);
  making.delete(address);
  if (!said) return state.remove();
  button.remove();
  words.textContent = said;
  setTimeout(() => state.remove(), 15000);
});
