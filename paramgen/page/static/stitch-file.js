// A stitch file is sent to the program on this machine, and what it says is shown.
import { put, lines } from "./changes.js";

const chosen = document.getElementById("file");
const unit = document.getElementById("unit");
const MOST = 6_000_000;

async function tell() {
  const file = chosen.files[0];
  if (!file) return;
  const said = document.createElement("p");
  if (file.size > MOST) said.textContent = `${file.name} is larger than this page reads. The command “paramgen read” takes it.`;
  else said.textContent = `Reading ${file.name} …`;
  document.querySelector('[data-part="stitch-file"]').replaceChildren(said);
  if (file.size > MOST) return;
  const asked = new URLSearchParams({ name: file.name, unit: unit.value });
  try {
    const answer = await fetch(`/stitch-file?${asked}`, { method: "POST", body: file, headers: { "content-type": "application/octet-stream" } });
    if (!answer.ok) throw new Error(await answer.text());
    for await (const part of lines(answer.body)) put(part.part, part.html);
  } catch (problem) {
    said.textContent = `${file.name} could not be read: ${problem.message}`;
    document.querySelector('[data-part="stitch-file"]').replaceChildren(said);
  }
}

chosen.addEventListener("change", tell);
unit.addEventListener("change", tell);
