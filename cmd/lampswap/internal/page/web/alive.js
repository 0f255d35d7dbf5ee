// Tells a program that was opened without a terminal that this page is here, so that it ends when no page is.
const page = Math.random().toString(36).slice(2) + Date.now().toString(36);
let on = true;

async function tell() {
  if (!on) return;
  try {
    const answer = await fetch("/alive", { method: "POST", body: new URLSearchParams({ page }) });
    if (answer.status !== 200) {
      on = false; // it is ended in its terminal
      return;
    }
    const footer = document.querySelector("footer") || document.querySelector("main"), words = await answer.text();
    if (!document.getElementById("ends")) {
      const line = document.createElement("p");
      line.id = "ends";
      line.textContent = words;
      footer.append(line);
    }
  } catch {
    // gone already: the next edit says so
  }
}

tell();
setInterval(tell, 30000);
addEventListener("pageshow", (e) => {
  if (e.persisted) tell();
});
addEventListener("pagehide", () => {
  if (on) navigator.sendBeacon("/alive", new URLSearchParams({ page, closed: "1" }));
});
