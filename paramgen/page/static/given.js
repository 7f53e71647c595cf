// Files of one's own, given to the program on this machine and kept in this browser.

/** No larger one is given, bytes. */
export const MOST = 5_000_000;

function kept() {
  return new Promise((done, failed) => {
    const asked = indexedDB.open("prints", 1); // of motifs too: what a browser keeps already is not lost
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

async function give(path, file) {
  const answer = await fetch(path, { method: "POST", body: file, headers: { "content-type": "application/octet-stream" } });
  if (!answer.ok) throw new Error(await answer.text());
  return (await answer.json()).name;
}

const pathOf = (file) => `/motif?${new URLSearchParams({ name: file.name })}`;

/** Give a picture of a fabric, or a motif; gives its name in an address. */
export async function given(file, motif) {
  const name = await give(motif ? pathOf(file) : "/print", file);
  await keep(name, file);
  return name;
}

/** The names of files in what is typed in a form. */
function* named(form) {
  for (const field of form.querySelectorAll("input[data-role]")) {
    const name = /print-[0-9a-f]{16}/.exec(field.value)?.[0];
    if (name) yield [name, false];
  }
  for (const [, name] of form.elements.on.value.matchAll(/"([^"]+-[0-9a-f]{16}\.[^".]+)"/g)) yield [name, true];
}

/** Give the program again what it no longer has, of the files that the fields name. */
export async function restored(form) {
  let anew = false;
  for (const [name, motif] of named(form)) {
    if ((await fetch(`/given/${encodeURIComponent(name)}`)).ok) continue;
    const file = await found(name);
    if (file) anew = Boolean(await give(motif ? pathOf(file) : "/print", file).catch(() => null)) || anew;
  }
  return anew;
}
