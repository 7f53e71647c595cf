// Asks for what changed, and puts each part in its place as it comes.

const digests = new Map();
let under = null;

/** Parse markup that this page's own server made; nothing in it can run (see the policy). */
export function nodes(html) {
  const template = document.createElement("template");
  template.innerHTML = html;
  return template.content;
}

export function put(name, html) {
  for (const place of document.querySelectorAll(`[data-part="${CSS.escape(name)}"]`)) {
    place.replaceChildren(nodes(html).cloneNode(true));
    place.dispatchEvent(new CustomEvent("put", { bubbles: true, detail: { name } }));
  }
}

// By this the program knows what to give up when this window asks for something else.
const WINDOW = crypto.getRandomValues(new Uint32Array(4)).join("-");
const MOST_WAIT = 250; // ms that a change waits for the picture of the one before it

let latest = 0;
let pictured = Promise.resolve();

/**
 * Wait until it makes sense to ask: what was asked before has shown its first part, so that a row
 * of quick changes is seen as it goes. Gives the number of the turn, to ask `newest` by.
 */
export async function inTurn() {
  const mine = ++latest;
  await Promise.race([pictured, new Promise((done) => setTimeout(done, MOST_WAIT))]);
  return mine;
}

export const newest = (number) => number === latest;

/**
 * Ask for the parts of an address that are not as they were.
 * Whatever was asked before and is not all there is given up.
 */
export async function ask(path, query, extra = {}) {
  under?.abort();
  const mine = (under = new AbortController());
  let first;
  pictured = new Promise((done) => (first = done));
  const body = JSON.stringify({ query, have: Object.fromEntries(digests), window: WINDOW, ...extra });
  try {
    const answer = await fetch(path, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body,
      signal: mine.signal,
    });
    if (!answer.ok) throw new Error(await answer.text());
    for await (const part of lines(answer.body)) {
      if (mine.signal.aborted) return false;
      digests.set(part.part, part.digest);
      put(part.part, part.html);
      first();
    }
    return true;
  } catch (problem) {
    if (mine.signal.aborted) return false;
    throw problem;
  } finally {
    first();
    if (under === mine) under = null;
  }
}

export async function* lines(stream) {
  const reader = stream.pipeThrough(new TextDecoderStream()).getReader();
  let text = "";
  for (;;) {
    const { value, done } = await reader.read();
    if (done) return;
    text += value;
    const whole = text.split("\n");
    text = whole.pop();
    for (const line of whole) if (line) yield JSON.parse(line);
  }
}
