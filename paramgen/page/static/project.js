// The page of a project: what is typed or dragged is asked at once, and shown.
import { ask } from "./changes.js";
import { follow } from "./follow.js";
import { markHandles } from "./handles.js";
import { turn } from "./turned.js";
import { remember } from "./recent.js";

const form = document.getElementById("asked");
const shown = document.querySelector(".shown");
const WAIT = 40; // ms after a key press

/** The address of what the form says: what is left as it is stays out of it. */
export function query() {
  const entries = [];
  for (const field of form.elements) {
    if (!field.name || (field.type === "checkbox" && !field.checked)) continue;
    const value = field.value.trim();
    if (value && value !== field.dataset.usual) entries.push([field.name, value]);
  }
  return new URLSearchParams(entries).toString();
}

/** Put what an address says into the form. */
function fill(search) {
  const said = new URLSearchParams(search);
  for (const field of form.elements) {
    if (!field.name) continue;
    if (field.type === "checkbox") field.checked = said.has(field.name);
    else field.value = said.get(field.name) ?? field.dataset.usual ?? "";
  }
}

async function show(keep) {
  const asked = query();
  const address = `/project?${asked}`;
  if (location.pathname + location.search !== address) {
    if (keep) history.pushState(null, "", address);
    else history.replaceState(null, "", address);
  }
  for (const link of document.querySelectorAll("[data-keeps-query]")) {
    const there = new URL(link.href);
    const step = link.dataset.step ? `&step=${link.dataset.step}` : "";
    link.href = `${there.pathname}?${asked}${step}`;
  }
  shown.dataset.busy = "";
  try {
    if (await ask("/changes", asked)) {
      delete shown.dataset.busy;
      turn(asked);
      remember(address, document.querySelector("h1").textContent, document.querySelector(".verdict"));
    }
  } catch (problem) {
    delete shown.dataset.busy;
    const said = document.createElement("p");
    said.className = "verdict not";
    said.textContent = `The program did not answer: ${problem.message} What is typed is kept in the address; try again.`;
    document.querySelector('[data-part="verdict"]').replaceChildren(said);
  }
}

let timer = 0;
form.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(() => show(false), WAIT);
});
form.addEventListener("change", () => {
  clearTimeout(timer);
  show(true);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  show(true);
});
addEventListener("popstate", () => {
  fill(location.search);
  show(false);
});
document.addEventListener("click", (event) => {
  const link = event.target.closest?.("a[data-change]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  fill(new URL(link.href).search);
  show(true);
  document.querySelector('[data-part="verdict"]').scrollIntoView({ block: "nearest" });
});
let asks = document.querySelector('[data-part="asks"]').textContent.trim();
document.addEventListener("put", (event) => {
  const name = event.detail.name;
  if (name === "asks" && event.target.textContent.trim() !== asks) {
    asks = event.target.textContent.trim();
    location.reload(); // the recipe asks for other things now
  }
  if (!name.startsWith("note-")) return;
  const field = document.getElementById(`f-${name.slice(5)}`);
  if (!field) return;
  const wrong = Boolean(event.target.querySelector(".fault"));
  field.toggleAttribute("aria-invalid", wrong);
  if (wrong) field.setAttribute("aria-invalid", "true");
});
markHandles(form, () => show(false), () => show(true));
remember(location.pathname + location.search, document.querySelector("h1").textContent, document.querySelector(".verdict"));
follow(() => show(false));
