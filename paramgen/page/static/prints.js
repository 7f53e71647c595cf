// A colour or a picture of one's own fabric: put into its field, and the picture kept in this browser.

const MOST = 5_000_000;

function kept() {
  return new Promise((done, failed) => {
    const asked = indexedDB.open("prints", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("prints");
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
}

async function keep(name, file) {
  try {
    const base = await kept();
    base.transaction("prints", "readwrite").objectStore("prints").put(file, name);
  } catch {
    // Nothing is kept where the browser keeps nothing.
  }
}

async function found(name) {
  try {
    const base = await kept();
    return await new Promise((done) => {
      const asked = base.transaction("prints").objectStore("prints").get(name);
      asked.onsuccess = () => done(asked.result ?? null);
      asked.onerror = () => done(null);
    });
  } catch {
    return null;
  }
}

async function give(file) {
  const answer = await fetch("/print", { method: "POST", body: file, headers: { "content-type": "application/octet-stream" } });
  if (!answer.ok) throw new Error(await answer.text());
  return (await answer.json()).name;
}

/** Give the program again what it no longer has, of the pictures that the fields name. */
export async function restored(form) {
  let anew = false;
  for (const field of form.querySelectorAll("input[data-role]")) {
    const name = /print-[0-9a-f]{16}/.exec(field.value)?.[0];
    if (!name || (await fetch(`/print/${name}`)).ok) continue;
    const file = await found(name);
    if (file) anew = Boolean(await give(file).catch(() => null)) || anew;
  }
  return anew;
}

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
      const name = await give(file);
      await keep(name, file);
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
