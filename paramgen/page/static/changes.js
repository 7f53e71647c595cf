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

/**
 * Ask for the parts of an address that are not as they were.
 * Whatever was asked before and is not all there is given up.
 */
export async function ask(path, query, extra = {}) {
  under?.abort();
  const mine = (under = new AbortController());
  const body = JSON.stringify({ query, have: Object.fromEntries(digests), ...extra });
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
    }
    return true;
  } catch (problem) {
    if (problem.name === "AbortError") return false;
    throw problem;
  } finally {
    if (under === mine) under = null;
  }
}

/** Each line of an answer, as it comes. */
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
