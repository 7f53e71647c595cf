// A table of sizes: what is typed stands in the address, and each row is shown as it comes.
import { ask } from "./changes.js";
import { jobPlace, resultOf } from "./jobs.js";

const form = document.getElementById("rows");
const columns = form.dataset.columns.split(",");
const WAIT = 250; // ms after a key press: each row is worked out anew

/** What each row says. */
function said() {
  return [...form.querySelectorAll("[data-row]")].map((row) =>
    [...row.querySelectorAll("[data-column]")]
      .map((cell) => [cell.dataset.column, cell.value.trim()])
      .filter(([, text]) => text),
  );
}

function query(rows = said(), shown = columns) {
  const entries = new URLSearchParams(form.dataset.base);
  entries.set("columns", shown.join(","));
  for (const row of rows) entries.append("row", new URLSearchParams(row).toString());
  return entries.toString();
}

const go = (asked) => location.assign(`/table?${asked}`);

async function show() {
  const asked = query();
  history.replaceState(null, "", `/table?${asked}`);
  document.querySelector("[data-file]").href = `/table.csv?${asked}`;
  try {
    await ask("/table", asked);
  } catch (problem) {
    const says = document.createElement("p");
    says.className = "fault";
    says.textContent = `The program did not answer: ${problem.message}`;
    document.querySelector('[data-part="table-faults"]').replaceChildren(says);
  }
}

let timer = 0;
form.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(show, WAIT);
});
form.addEventListener("submit", (event) => event.preventDefault());

/** Rows of a spreadsheet that are put into a cell fill it and those right of and below it. */
form.addEventListener("paste", (event) => {
  const text = event.clipboardData.getData("text/plain").replace(/\r?\n$/, "");
  const cell = event.target.closest("[data-column]");
  if (!cell || !/[\t\n]/.test(text)) return;
  event.preventDefault();
  const rows = said().map((row) => new Map(row));
  const first = Number(cell.closest("[data-row]").dataset.row);
  const from = columns.indexOf(cell.dataset.column);
  text.split(/\r?\n/).forEach((line, down) => {
    if (first + down >= Number(form.dataset.most)) return;
    const row = (rows[first + down] ??= new Map());
    line.split("\t").forEach((value, right) => {
      const column = columns[from + right];
      if (column && value.trim()) row.set(column, value.trim());
    });
  });
  go(query(rows.map((row) => [...row])));
});

document.addEventListener("click", async (event) => {
  const button = event.target.closest?.("button");
  if (!button) return;
  if ("add" in button.dataset) go(query([...said(), []]));
  else if ("drop" in button.dataset) go(query(said().filter((_, place) => place !== Number(button.dataset.drop))));
  else if ("all" in button.dataset) run({ task: "take-all", query: query() });
  else if ("paste" in button.dataset) paste();
});

document.getElementById("further").addEventListener("change", (event) => {
  if (event.target.value) go(query(said(), [...columns, event.target.value]));
});

// What a row leaves empty may follow from what it says.
document.addEventListener("put", (event) => {
  const told = event.target.querySelector("[data-now]");
  if (!told) return;
  const now = JSON.parse(told.dataset.now);
  for (const cell of event.target.closest("[data-row]").querySelectorAll("[data-column]")) {
    if (cell.dataset.column in now) cell.placeholder = now[cell.dataset.column];
  }
});

async function paste() {
  const says = document.getElementById("paste-says");
  const answer = await fetch("/table-pasted", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ query: query(), text: document.getElementById("paste").value }),
  });
  const text = await answer.text();
  if (answer.ok) go(text);
  else says.textContent = text;
}

const run = jobPlace(document.querySelector("[data-job]"), (state, name, { status, had }) => {
  if (state.stage !== "done") return;
  had.href = resultOf(name);
  had.hidden = false;
  const less = state.facts.less; // some rows are not in it
  status.textContent = less ? `${less}. Your browser saves it.` : "Done; your browser saves it.";
  had.click();
});
show();
