// A kit: what is typed stands in the address, and the plan follows it.
import { nodes } from "./changes.js";
import { jobPlace, resultOf } from "./jobs.js";

const form = document.getElementById("kit");
const place = document.querySelector("[data-job]");

/** All that is typed, what is empty left out. */
function typed() {
  const entries = new URLSearchParams();
  for (const field of form.elements) {
    if (field.name && field.value.trim()) entries.append(field.name, field.value.trim());
  }
  return entries.toString();
}

if (form) {
  const shown = document.querySelector('[data-part="kit"]');
  let taking = false;
  const run = jobPlace(place, async (state, name, { status, had }) => {
    if (state.stage !== "done") return;
    if (taking) {
      had.href = resultOf(name);
      had.hidden = false;
      status.textContent = "Done; your browser saves it.";
      had.click();
      return;
    }
    const answer = await fetch(resultOf(name));
    if (!answer.ok) return;
    place.hidden = true;
    shown.replaceChildren(nodes(await answer.text()));
  });
  const plan = () => {
    taking = false;
    run({ task: "kit", query: typed() });
  };
  let later = 0;
  form.addEventListener("input", () => {
    clearTimeout(later);
    later = setTimeout(() => {
      history.replaceState(null, "", `/kit?${typed()}`);
      plan();
    }, 350);
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  document.querySelector("[data-take-kit]").addEventListener("click", () => {
    clearTimeout(later);
    taking = true;
    run({ task: "take-kit", query: typed() });
  });
  plan();
}
