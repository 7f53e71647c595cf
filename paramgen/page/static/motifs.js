// A motif of one's own: its stitch file is given, and put into what is stitched on the panels.
import { given, MOST } from "./given.js";

/** What is asked for on each panel, with semicolons between that stand in no quotes. */
const parted = (text) => (text.match(/(?:[^;"]|"[^"]*"?)+/g) ?? []).map((one) => one.trim()).filter(Boolean);

/** The same with a motif on a panel, in place of the one that is there. */
function withMotif(text, panel, name) {
  const asked = parted(text);
  const there = asked.findIndex((one) => {
    const [on, what = ""] = one.split("=");
    return on.trim().toLowerCase() === panel.toLowerCase() && /^\s*motif\b/i.test(what);
  });
  if (there < 0) return [...asked, `${panel}=motif:"${name}"`].join("; ");
  const options = asked[there].replace(/^[^=]*=\s*motif\s*:?/i, "").replace(/"[^"]*"?/, "").split(",");
  const more = options.map((one) => one.trim()).filter(Boolean);
  return asked.with(there, `${panel}=motif:${[`"${name}"`, ...more].join(",")}`).join("; ");
}

/** Take the file that was chosen as the motif of the panel that is picked. */
export async function takeMotif(chosen) {
  const file = chosen.files[0];
  chosen.value = "";
  if (!file) return;
  const place = document.getElementById("own-motif");
  const note = place.querySelector("[role=status]");
  const panel = place.querySelector("select").value;
  const field = document.getElementById("on");
  note.textContent = `Reading ${file.name} …`;
  try {
    if (file.size > MOST) throw new Error("it is larger than 5 MB. The command takes it, with --on.");
    const name = await given(file, true);
    field.value = withMotif(field.value, panel, name);
    note.textContent = `${file.name} is the motif on the ${panel}. Behind its name above say more, each after a comma: top left, turn 90, percent 95.`;
    field.dispatchEvent(new Event("change", { bubbles: true }));
  } catch (problem) {
    note.textContent = `${file.name}: ${problem.message}`;
  }
}
