// The solid view of a project, loaded once it is asked for, and following each change.
import { mountSolid } from "./solid.js";

const place = document.getElementById("solid");
const NONE = "There is no finished thing to turn: see the verdict. What is drawn is as it was before.";
let solid = null;
let shown = "";
let under = null;

async function load(query) {
  if (!place || query === shown) return;
  under?.abort();
  const mine = (under = new AbortController());
  let scene;
  try {
    const answer = await fetch(`/solid?${query}`, { signal: mine.signal });
    if (!answer.ok) {
      place.querySelector("[role=status]").textContent = await answer.text();
      return;
    }
    scene = await answer.json();
  } catch {
    return; // it was given up, while it was asked or while it came, or nothing answers
  }
  if (mine.signal.aborted) return;
  shown = query;
  place.querySelector("[role=status]").textContent = scene ? "" : NONE;
  if (!scene) return;
  if (solid) await solid.take(scene);
  else solid = mountSolid(place.querySelector(".solid-here"), scene);
}

/** Show the solid of what an address asks for, if it is looked at. */
export function turn(query) {
  if (place?.open) load(query);
}

place?.addEventListener("toggle", () => {
  if (place.open) load(location.search.slice(1));
});
