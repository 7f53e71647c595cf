// The map of all sizes: what lies under the pointer or the cross, and taking it.
import { nodes } from "./changes.js";
import { rounded, typed } from "./handles.js";
import { jobPlace, resultOf } from "./jobs.js";

const place = document.querySelector("[data-job]");
const shown = document.querySelector('[data-part="map"]');
const run = jobPlace(place, async (state, name) => {
  if (state.stage !== "done") return;
  const answer = await fetch(resultOf(name));
  if (!answer.ok) return;
  place.hidden = true;
  shown.replaceChildren(nodes(await answer.text()));
  const figure = shown.querySelector(".map");
  if (figure) map(figure);
});
const asked = new URLSearchParams(location.search);
asked.delete("over");
run({ task: "sizes", query: asked.toString(), over: shown.dataset.over });

/** Whether a point lies in an odd number of rings: in a region, and not in a hole of it. */
function inside([x, y], rings) {
  let odd = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [[ax, ay], [bx, by]] = [ring[i], ring[j]];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd;
    }
  }
  return odd;
}

/** The point of some lines that is nearest to another, and how far it is. */
function nearest([x, y], lines) {
  let best = { at: null, far: Infinity };
  for (const line of lines) {
    line.forEach(([bx, by], i) => {
      const [ax, ay] = line[Math.max(0, i - 1)];
      const [dx, dy] = [bx - ax, by - ay];
      const along = dx || dy ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy))) : 0;
      const at = [ax + along * dx, ay + along * dy];
      const far = Math.hypot(at[0] - x, at[1] - y);
      if (far < best.far) best = { at, far };
    });
  }
  return best;
}

const NEAR = 0.06; // mm: sizes are known to a tenth
const ON_EDGE = 0.002; // mm: corners are told to a thousandth, and what lies on an edge works

function map(figure) {
  const told = JSON.parse(figure.dataset.map);
  const ground = figure.querySelector(".ground");
  const svg = figure.querySelector("svg");
  const says = document.getElementById("map-says");
  const [left, top, width, height] = told.box;
  const lines = [told.whole, ...told.hoops].flatMap((one) => one.lines);
  const mark = told.inches ? 25.4 / 16 : 0.5;
  const most = told.middle.map((middle, i) => middle + (i ? height : width) / 2 / told.scale);
  const least = told.middle.map((middle, i) => middle - (i ? height : width) / 2 / told.scale);
  let at = told.asked;

  const works = (one) =>
    inside(at, one.rings) || nearest(at, one.rings).far < ON_EDGE || nearest(at, one.lines).far < NEAR;
  const write = (mm) => {
    const text = typed(mm, told.inches);
    return Math.abs(rounded(mm, told.inches) - mm) < 0.005 || !told.inches ? text : `${Number(mm.toFixed(2))}mm`;
  };
  const read = (mm) =>
    told.inches ? `${typed(mm, true)} (${Number(mm.toFixed(1))} mm)` : write(mm).replace(/(\d)mm$/, "$1 mm");
  const name = (size) => size.replaceAll("_", " ");

  /** Lay the ground over the plot, and the cross on it. */
  function lay() {
    const matrix = svg.getScreenCTM();
    if (!matrix) return;
    const base = figure.getBoundingClientRect();
    const corner = new DOMPoint(left, top).matrixTransform(matrix);
    ground.style.left = `${corner.x - base.left}px`;
    ground.style.top = `${corner.y - base.top}px`;
    ground.style.width = `${width * matrix.a}px`;
    ground.style.height = `${height * matrix.d}px`;
    ground.querySelector(".down").style.left = `${(100 * (at[0] - least[0])) / (most[0] - least[0])}%`;
    ground.querySelector(".across").style.top = `${(100 * (most[1] - at[1])) / (most[1] - least[1])}%`;
  }

  function put(sizes) {
    at = sizes.map((mm, i) => Math.max(least[i], Math.min(most[i], mm)));
    const close = nearest(at, lines);
    // Where one size follows from the other, what works is a line: it is taken hold of nearby.
    if (close.at && close.far < (most[0] - least[0]) / 40 && !inside(at, told.whole.rings)) at = close.at;
    const hoops = told.hoops.filter(works).map((one) => one.name);
    const verdict = hoops.length
      ? `works in ${hoops.length > 1 ? "hoops" : "hoop"} ${hoops.join(", ")}`
      : works(told.whole)
        ? "works, but in none of these hoops"
        : "does not work";
    says.textContent = `${name(told.first)} ${read(at[0])}, ${name(told.second)} ${read(at[1])}: ${verdict}.`;
    says.classList.toggle("can", hoops.length > 0);
    lay();
  }

  function take() {
    const entries = new URLSearchParams(told.query);
    entries.set(`my.${told.first}`, write(at[0]));
    entries.set(`my.${told.second}`, write(at[1]));
    const takes = told.hoops.filter(works).map((one) => one.name);
    const own = entries.getAll("hoop");
    // Of all hoops the smallest that takes it, unless one that was asked for does.
    if (takes.length && !takes.some((one) => own.includes(one)) && told.hoops.length > Math.max(1, own.length)) {
      entries.delete("hoop");
      entries.set("hoop", takes[0]);
    }
    location.assign(`/project?${entries}`);
  }

  const under = (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const sizes = [told.middle[0] + point.x / told.scale, told.middle[1] - point.y / told.scale];
    return sizes.map((mm) => rounded(mm, told.inches));
  };
  ground.addEventListener("pointermove", (event) => put(under(event)));
  ground.addEventListener("click", (event) => {
    put(under(event));
    take();
  });
  ground.addEventListener("keydown", (event) => {
    const by = (event.shiftKey ? 10 : 1) * mark;
    const ways = { ArrowRight: [by, 0], ArrowLeft: [-by, 0], ArrowUp: [0, by], ArrowDown: [0, -by] };
    if (event.key === "Enter") take();
    else if (event.key in ways) put(at.map((mm, i) => rounded(mm, told.inches) + ways[event.key][i]));
    else return;
    event.preventDefault();
  });
  addEventListener("resize", lay);
  put(told.asked);
}
