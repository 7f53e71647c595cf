// After a refusal: what would do is looked for, and added to what was found.
import { nodes } from "./changes.js";
import { resultOf, start } from "./jobs.js";

const WAIT = 500; // ms: nobody wants it who goes on typing

export function lookForWhatWouldDo(form) {
  let stop = null;
  let timer = 0;
  const end = () => {
    clearTimeout(timer);
    stop?.();
    stop = null;
  };
  const look = () => {
    end();
    const place = document.querySelector('[data-part="findings"] [data-would-do]');
    if (place) timer = setTimeout(() => begin(place), WAIT);
  };
  function begin(place) {
    const says = document.createElement("p");
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Stop looking";
    button.addEventListener("click", () => {
      end();
      place.hidden = true;
    });
    place.replaceChildren(says, button);
    place.hidden = false;
    stop = start({ task: "would-do", query: place.dataset.wouldDo }, async (state, name) => {
      says.textContent = state.says;
      if (!state.over) return;
      stop = null;
      const answer = state.stage === "done" ? await fetch(resultOf(name)) : null;
      place.replaceChildren(...(answer?.ok ? [nodes(await answer.text())] : []));
      place.hidden = !place.children.length;
    });
  }
  form.addEventListener("input", end);
  document.addEventListener("put", (event) => {
    if (event.detail.name === "findings") look();
  });
  addEventListener("pagehide", end);
  look();
}
