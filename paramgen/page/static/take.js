// Taking a project: how it is written stands in the address; files are asked for one at a time.
import { jobPlace, resultOf } from "./jobs.js";

const form = document.getElementById("how");
const query = () => new URLSearchParams(location.search).toString();

function address() {
  const entries = [];
  for (const field of form.elements) {
    if (!field.name || (field.type === "checkbox" && !field.checked)) continue;
    const value = field.value.trim();
    if (value && !(field.name === "booklet" && value === field.options[0].value)) entries.push([field.name, value]);
  }
  return new URLSearchParams(entries).toString();
}

form.addEventListener("change", (event) => {
  const kinds = [...form.querySelectorAll("[data-file]")];
  if (event.target.matches("[data-file]")) {
    const chosen = kinds.filter((one) => one.checked);
    // None is no choice: a pack has at least one.
    if (!chosen.length) event.target.checked = true;
    const names = kinds.filter((one) => one.checked).map((one) => one.value);
    form.elements.files.value = names.length === kinds.length ? "all" : names.join(",");
  }
  // The list of files, and what is wrong with what was typed, is the program's to say.
  sessionStorage.setItem("focus", event.target.id || event.target.value);
  location.replace(`/take?${address()}`);
});
form.addEventListener("submit", (event) => event.preventDefault());

const focus = sessionStorage.getItem("focus");
sessionStorage.removeItem("focus");
if (focus) (document.getElementById(focus) ?? form.querySelector(`[data-file][value="${CSS.escape(focus)}"]`))?.focus();

const place = document.querySelector("[data-job]");
if (place) {
  const run = jobPlace(place, (state, name, { status, had, over }) => {
    if (state.stage === "done" && wanted) {
      had.href = resultOf(name);
      had.hidden = false;
      status.textContent = "Done; your browser saves it.";
      had.click();
    }
    over.hidden = !state.facts.another;
  });
  let wanted = "";
  document.addEventListener("click", (event) => {
    const one = event.target.closest?.("[data-take], [data-put], [data-over]");
    if (!one) return;
    wanted = one.dataset.take ?? "";
    if (wanted) run({ task: "take", query: query(), wanted });
    else run({ task: "put", query: query(), over: "over" in one.dataset ? "1" : "" });
  });
}
