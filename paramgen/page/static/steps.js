// From step to step: by buttons, keys or a swipe; where one was is kept.
import { ask } from "./changes.js";

const place = document.querySelector('[data-part="step"]');
const article = () => place.querySelector("article.step");
const FAR = 60; // CSS pixels that make a swipe

/** What is asked for, whatever step is looked at: where one was is kept by it. */
function project() {
  const said = new URLSearchParams(location.search);
  said.delete("step");
  said.delete("side");
  return said.toString();
}

function keep() {
  const at = article();
  if (!at) return;
  try {
    localStorage.setItem("last-step", JSON.stringify({ project: project(), step: at.dataset.number }));
  } catch {
    // Nothing is kept where the browser keeps nothing.
  }
}

async function go(address, push = true) {
  const there = new URL(address, location.href);
  const pressed = place.contains(document.activeElement) ? document.activeElement : null;
  if (push) history.pushState(null, "", there);
  try {
    if (!(await ask("/steps", there.search.slice(1)))) return;
  } catch {
    location.assign(there); // the page says itself what is wrong
    return;
  }
  keep();
  if (pressed) (place.querySelector(pressed.id ? `#${pressed.id}` : `a[rel="${pressed.rel}"]`) ?? place).focus();
  document.title = `${article()?.querySelector("h1").textContent ?? "Step by step"} · paramgen`;
  scrollTo({ top: 0 });
}

function to(relation) {
  const link = place.querySelector(`a[rel="${relation}"]`);
  if (link) go(link.href);
}

addEventListener("popstate", () => go(location.href, false));
document.addEventListener("click", (event) => {
  const link = event.target.closest?.('a[rel], #flip, a[data-go]');
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  go(link.href);
});
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.target.closest?.("input, select, textarea")) return;
  const ways = { ArrowRight: "next", PageDown: "next", ArrowLeft: "prev", PageUp: "prev" };
  if (!(event.key in ways)) return;
  event.preventDefault();
  to(ways[event.key]);
});
let from = null;
place.addEventListener("touchstart", (event) => {
  from = event.touches.length === 1 ? event.touches[0] : null;
}, { passive: true });
place.addEventListener("touchend", (event) => {
  const at = event.changedTouches[0];
  if (!from || !at) return;
  const [x, y] = [at.clientX - from.clientX, at.clientY - from.clientY];
  from = null;
  if (Math.abs(x) > FAR && Math.abs(x) > 2 * Math.abs(y)) to(x < 0 ? "next" : "prev");
}, { passive: true });

if ("wakeLock" in navigator) {
  const button = document.querySelector("#awake button");
  document.getElementById("awake").hidden = false;
  let lock = null;
  button.addEventListener("click", async () => {
    if (lock) {
      await lock.release();
      lock = null;
    } else {
      lock = await navigator.wakeLock.request("screen").catch(() => null);
    }
    button.setAttribute("aria-pressed", String(Boolean(lock)));
  });
}

if (!new URLSearchParams(location.search).has("step")) {
  let last = null;
  try {
    last = JSON.parse(localStorage.getItem("last-step") ?? "null");
  } catch {
    // It is begun at the first.
  }
  if (last?.project === project() && /^\d+$/.test(last.step) && last.step !== "1") {
    history.replaceState(null, "", `/steps?${project()}&step=${last.step}`);
    go(location.href, false);
  }
}
keep();
