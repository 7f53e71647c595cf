// The page of a project: what is typed or dragged is asked at once, and shown.
import { ask, inTurn, newest } from "./changes.js";
import { follow } from "./follow.js";
import { markHandles } from "./handles.js";
import { restored } from "./given.js";
import { clothEntries, fillCloths, markPrints } from "./prints.js";
import { turn } from "./turned.js";
import { remember } from "./recent.js";
import { lookForWhatWouldDo } from "./would-do.js";

const form = document.getElementById("asked");
const shown = document.querySelector(".shown");
const PAUSE = 40; // ms without a change, after which all is shown and not the picture alone
let settled = true; // whether what is shown is an entry of its own to go back to
let answered = null; // what all that is shown answers
let panel = ""; // that a motif is for, whose list is put anew

/** The address of what the form says: what is left as it is stays out of it. */
export function query() {
  const entries = [];
  for (const field of form.elements) {
    if (!field.name || (field.type === "checkbox" && !field.checked)) continue;
    const value = field.value.trim();
    if (value && value !== field.dataset.usual && !field.dataset.role) entries.push([field.name, value]);
  }
  entries.push(...clothEntries(form));
  return new URLSearchParams(entries).toString();
}

/** Put what an address says into the form. */
function fill(search) {
  const said = new URLSearchParams(search);
  const filled = {}; // how many of a name: hoops that are tried in turn have one
  for (const field of form.elements) {
    if (!field.name || field.dataset.role) continue;
    const nth = (filled[field.name] = (filled[field.name] ?? -1) + 1);
    if (field.type === "checkbox") field.checked = said.has(field.name);
    else field.value = said.getAll(field.name)[nth] ?? field.dataset.usual ?? "";
  }
  fillCloths(form, said);
}

/** Have the address say what is asked: an entry for each change, not for each key press. */
function note(address, done) {
  if (location.pathname + location.search !== address) {
    if (settled) history.pushState(null, "", address);
    else history.replaceState(null, "", address);
    settled = false;
  }
  settled ||= done;
}

/** Show what is asked: all of it, or `only` the picture or the rest. */
async function show(done, entry = true, only = "") {
  if (done && entry) note(`/project?${query()}`, true);
  const mine = await inTurn();
  if (!newest(mine)) return;
  const asked = query();
  const address = `/project?${asked}`;
  if (entry) note(address, done);
  if (asked === answered) return;
  answered = null;
  for (const link of document.querySelectorAll("[data-keeps-query]")) {
    const there = new URL(link.href);
    const step = link.dataset.step ? `&step=${link.dataset.step}` : "";
    link.href = `${there.pathname}?${asked}${step}`;
  }
  shown.dataset.busy = "";
  try {
    const shownAll = await ask("/changes", asked, only ? { only } : {});
    if (shownAll && only === "picture") {
      setTimeout(() => newest(mine) && show(false, true, query() === asked ? "rest" : ""), PAUSE);
    } else if (shownAll) {
      delete shown.dataset.busy;
      answered = asked;
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

form.addEventListener("input", () => show(false));
form.addEventListener("change", ({ target }) => {
  if (target.matches("[data-motif]")) import("./motifs.js").then(({ takeMotif }) => takeMotif(target));
  else if (target.matches('[data-part="panels"]')) panel = target.value;
  else show(true);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  show(true);
});
addEventListener("popstate", () => {
  settled = true;
  fill(location.search);
  show(true, false);
});
/** Make a field ready that a message names, though it is folded away. */
function lead(field) {
  const folded = field.closest("details");
  if (folded) folded.open = true;
  field.focus();
  field.scrollIntoView({ block: "center" });
}

document.addEventListener("click", (event) => {
  const leads = event.target.closest?.("a[data-field]");
  const field = leads && document.getElementById(leads.hash.slice(1));
  if (!field || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  lead(field);
});
document.addEventListener("click", (event) => {
  const link = event.target.closest?.("a[data-change]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  fill(new URL(link.href).search);
  show(true);
  const verdict = document.querySelector('[data-part="verdict"]');
  verdict.scrollIntoView({ block: "nearest" });
  verdict.focus({ preventScroll: true }); // what was pressed is gone soon
});
let asks = document.querySelector('[data-part="asks"]').textContent.trim();
document.addEventListener("put", (event) => {
  const name = event.detail.name;
  if (name === "asks" && event.target.textContent.trim() !== asks) {
    asks = event.target.textContent.trim();
    location.reload(); // the recipe asks for other things now
  }
  if (name === "panels" && [...event.target.options].some((one) => one.value === panel)) event.target.value = panel;
  if (!name.startsWith("note-")) return;
  const said = name.slice("note-".length);
  const field = document.getElementById(said.startsWith("at-") ? said.slice(3) : `f-${said}`);
  if (!field) return;
  const now = event.target.querySelector("[data-now]");
  if (now && field.placeholder !== undefined) field.placeholder = now.textContent;
  const wrong = Boolean(event.target.querySelector(".fault"));
  field.toggleAttribute("aria-invalid", wrong);
  if (wrong) field.setAttribute("aria-invalid", "true");
});
markHandles(form, () => show(false, true, "picture"), () => show(true));
remember(location.pathname + location.search, document.querySelector("h1").textContent, document.querySelector(".verdict"));
follow(() => {
  answered = null; // the recipe is another one now
  show(true, false);
});
lookForWhatWouldDo(form);
markPrints(form);
restored(form).then((anew) => anew && location.reload());

/** Whether a field says something else than when it was sent. */
function touched(field) {
  if (!field.name) return false;
  if (field.type === "checkbox") return field.checked !== field.defaultChecked;
  if (field.options) return [...field.options].some((one) => one.defaultSelected && !one.selected);
  return field.value !== field.defaultValue;
}

const named = location.hash.startsWith("#f-") && document.getElementById(location.hash.slice(1));
if (named) lead(named); // another view names it

// What was typed before this was loaded is heard too.
if ([...form.elements].some(touched)) show(true);
