// A recipe is written here and tried at once; its file is written only when that is asked for.
import { ask } from "./changes.js";

const place = document.querySelector(".writing");
const text = document.getElementById("text");
const lines = document.getElementById("lines");
const told = document.getElementById("told");
const first = text.value; // as the file has it
const recipe = place.dataset.recipe;
const KEY = `draft ${recipe}`;
let was = place.dataset.was;
let kept = first;
let timer = 0;

function number() {
  const count = text.value.split("\n").length;
  if (lines.childElementCount === count) return;
  lines.replaceChildren(...Array.from({ length: count }, (_, at) => {
    const one = document.createElement("span");
    one.textContent = `${at + 1}\n`;
    return one;
  }));
}

function mark() {
  const wrong = new Set([...document.querySelectorAll("[data-part=verdict] [data-line]")].map((one) => one.dataset.line));
  [...lines.children].forEach((one, at) => one.classList.toggle("wrong", wrong.has(String(at + 1))));
}

async function tried() {
  number();
  try {
    const draft = text.value === kept ? null : text.value;
    if (draft === null) localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, JSON.stringify({ was, text: draft }));
  } catch {
    // Nothing is kept where the browser keeps nothing.
  }
  try {
    if (await ask("/changes", place.dataset.query, { text: text.value })) mark();
  } catch (problem) {
    told.textContent = `The program did not answer: ${problem.message}`;
  }
}

function go(line) {
  const rows = text.value.split("\n");
  const start = rows.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  text.focus();
  text.setSelectionRange(start, start + (rows[line - 1] ?? "").length);
  text.scrollTop = (text.scrollHeight / rows.length) * Math.max(0, line - 5);
}

text.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(tried, 150);
});
text.addEventListener("scroll", () => {
  lines.scrollTop = text.scrollTop;
});
document.addEventListener("click", (event) => {
  const fault = event.target.closest?.("[data-line]");
  if (fault) go(Number(fault.dataset.line));
});
document.getElementById("download").addEventListener("click", () => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text.value], { type: "application/toml" }));
  const stem = recipe.split(/[\\/]/).pop().replace(/\.toml$/, "");
  link.download = place.dataset.own === undefined ? `my-${stem}.toml` : `${stem}.toml`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
});
document.getElementById("again").addEventListener("click", () => {
  text.value = kept;
  tried();
  told.textContent = "This is the file’s text again.";
});
document.getElementById("open").addEventListener("change", async (event) => {
  const file = event.target.files[0];
  if (!file) return;
  if (file.size > text.maxLength) {
    told.textContent = `${file.name} is too large to be a recipe.`;
    return;
  }
  text.value = await file.text();
  told.textContent = `This is the text of ${file.name}.`;
  event.target.value = "";
  tried();
});
document.getElementById("save")?.addEventListener("click", async () => {
  const answer = await fetch("/own-file", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ recipe, text: text.value, was }),
  }).catch(() => null);
  if (answer?.ok) {
    was = (await answer.json()).was;
    kept = text.value;
    localStorage.removeItem(KEY);
    told.textContent = `Written into ${recipe}.`;
  } else {
    told.textContent = answer ? await answer.text() : "The program did not answer: nothing was written.";
  }
});
addEventListener("beforeunload", (event) => {
  if (text.value !== kept && !localStorage.getItem(KEY)) event.preventDefault();
});

let draft = null;
try {
  draft = JSON.parse(localStorage.getItem(KEY) ?? "null");
} catch {
  // There is none.
}
if (typeof draft?.text === "string" && draft.text !== first) {
  text.value = draft.text;
  told.textContent = draft.was === was
    ? "This is what you wrote here last; it is not in the file."
    : "This is what you wrote here last. The file has changed since: go back to its text, or download yours.";
  tried();
}
number();
mark();
