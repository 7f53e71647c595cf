// A colour or a picture of one's own fabric: put into its field.
import { given, MOST } from "./given.js";

/** What the fields say, as entries of an address. */
export function clothEntries(form) {
  return [...form.querySelectorAll("input[data-role]")]
    .filter((field) => field.value.trim())
    .map((field) => ["cloth", `${field.dataset.role}=${field.value.trim()}`]);
}

/** Put what an address says into the fields. */
export function fillCloths(form, said) {
  const told = new Map(said.getAll("cloth").map((one) => {
    const at = one.indexOf("=");
    return [one.slice(0, at).trim().toLowerCase().replace(/\s+/g, "-"), one.slice(at + 1).trim()];
  }));
  for (const field of form.querySelectorAll("input[data-role]")) field.value = told.get(field.dataset.role) ?? "";
}

export function markPrints(form) {
  form.addEventListener("input", (event) => {
    const place = event.target.closest("div[data-role]");
    if (!place || !event.target.matches("[data-colour]")) return;
    event.stopPropagation();
    set(place, event.target.value);
  });
  form.addEventListener("change", async (event) => {
    const place = event.target.closest("div[data-role]");
    if (!place || event.target.matches("input[data-role]")) return;
    event.stopPropagation();
    if (!event.target.matches("[data-print]")) return;
    const file = event.target.files[0];
    event.target.value = "";
    if (!file) return;
    const note = place.querySelector(".note");
    note.textContent = `Looking at ${file.name} …`;
    try {
      if (file.size > MOST) throw new Error("it is larger than 5 MB. Save it smaller.");
      const name = await given(file, false);
      const wide = / repeat .*$/.exec(place.querySelector("input[data-role]").value)?.[0] ?? " repeat 50 mm";
      set(place, `${name},${wide}`);
    } catch (problem) {
      note.textContent = `${file.name}: ${problem.message}`;
    }
  });
}

function set(place, value) {
  const field = place.querySelector("input[data-role]");
  field.value = value;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  field.dispatchEvent(new Event("change", { bubbles: true }));
}
