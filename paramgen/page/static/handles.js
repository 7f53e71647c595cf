// Marks of findings and handles of edges, laid over the picture of the hoop.

const figure = () => document.querySelector("figure.hoop");

// A handle stands so far outside its edge, CSS pixels, clear of the numbers on the line.
const BESIDE = 30;

/** Where a point of the drawing, in mm, lies over the figure, in CSS pixels. */
function matrix() {
  const svg = figure()?.querySelector(".picture svg");
  return svg?.getScreenCTM() ?? null;
}

function lay() {
  const there = matrix();
  if (!there) return;
  const ground = figure().getBoundingClientRect();
  const used = [];
  for (const one of figure().querySelectorAll(".mark, .handle")) {
    const point = new DOMPoint(Number(one.dataset.x), Number(one.dataset.y)).matrixTransform(there);
    const handle = one.classList.contains("handle");
    let x = point.x - ground.left + (handle && one.dataset.across ? BESIDE : 0);
    const y = point.y - ground.top + (handle && !one.dataset.across ? BESIDE : 0);
    while (!handle && used.some(([a, b]) => Math.hypot(a - x, b - y) < 26)) x += 14;
    used.push([x, y]);
    one.style.left = `${Math.max(14, Math.min(ground.width - 14, x))}px`;
    one.style.top = `${Math.min(ground.height - 14, y)}px`;
    one.dataset.put = "";
  }
}

/** Whole steps as a ruler has them: half a millimetre, or a sixteenth of an inch. */
export function rounded(mm, inches) {
  const mark = inches ? 25.4 / 16 : 0.5;
  return Math.round(mm / mark) * mark;
}

export function typed(mm, inches) {
  if (!inches) return `${Number(mm.toFixed(2))}mm`;
  const sixteenths = Math.round((mm / 25.4) * 16);
  const whole = Math.floor(sixteenths / 16);
  let [over, under] = [sixteenths % 16, 16];
  while (over && over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${[whole || !over ? whole : "", over ? `${over}/${under}` : ""].filter((part) => part !== "").join(" ")} in`;
}

/** Parts are put anew while a handle is in hand: it is known by what it drags. */
function held(size, across) {
  const own = [...document.querySelectorAll(`.handle[data-size="${CSS.escape(size)}"]`)];
  // What lies turned all at once has its size at another edge.
  return own.find((one) => one.dataset.across === across) ?? own[0];
}

export function markHandles(form, whileDragged, whenDone) {
  let dragged = null;
  let keyHeld = false;
  const inches = () => / in\b/.test(document.querySelector(".handle")?.getAttribute("aria-valuetext") ?? "");
  const set = (handle, mm) => {
    const least = Number(handle.getAttribute("aria-valuemin"));
    const most = Number(handle.getAttribute("aria-valuemax"));
    const value = Math.max(least, Math.min(most, rounded(mm, inches())));
    form.elements[`my.${handle.dataset.size}`].value = typed(value, inches());
    handle.setAttribute("aria-valuenow", String(value));
    handle.setAttribute("aria-valuetext", typed(value, inches()));
    return value;
  };
  document.addEventListener("pointerdown", (event) => {
    const handle = event.target.closest?.(".handle");
    if (!handle || event.button) return;
    event.preventDefault();
    handle.focus();
    const there = matrix();
    if (!there) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(there.inverse());
    const across = handle.dataset.across;
    dragged = {
      size: handle.dataset.size,
      across,
      from: across ? at.x : at.y,
      value: Number(handle.getAttribute("aria-valuenow")),
      times: Number(handle.dataset.times),
      inverse: there.inverse(),
    };
  });
  addEventListener("pointermove", (event) => {
    if (!dragged) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(dragged.inverse);
    // It lies centred: what one edge moves, the other moves the other way.
    const by = 2 * ((dragged.across ? at.x : at.y) - dragged.from);
    const handle = held(dragged.size, dragged.across);
    if (!handle) return;
    set(handle, dragged.value + by / dragged.times);
    whileDragged();
  });
  const end = () => {
    if (!dragged) return;
    dragged = null;
    whenDone();
  };
  addEventListener("pointerup", end);
  addEventListener("pointercancel", end);
  document.addEventListener("keydown", (event) => {
    const handle = event.target.closest?.(".handle");
    if (!handle) return;
    const mark = inches() ? 25.4 / 16 : 0.5;
    const steps = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 };
    const now = Number(handle.getAttribute("aria-valuenow"));
    let value = null;
    if (event.key in steps) value = now + steps[event.key] * mark;
    if (event.key === "Home") value = Number(handle.getAttribute("aria-valuemin"));
    if (event.key === "End") value = Number(handle.getAttribute("aria-valuemax"));
    if (value === null) return;
    event.preventDefault();
    set(handle, value);
    keyHeld = event.repeat;
    if (keyHeld) whileDragged();
    else whenDone();
  });
  document.addEventListener("keyup", () => {
    if (keyHeld) whenDone();
    keyHeld = false;
  });
  document.addEventListener("put", (event) => {
    if (event.detail.name !== "marks" && event.detail.name !== "picture") return;
    lay();
    if (event.detail.name === "marks" && dragged === null && focused) {
      held(...focused)?.focus();
    }
  });
  let focused = null;
  document.addEventListener("focusin", (event) => {
    const handle = event.target.closest?.(".handle");
    focused = handle ? [handle.dataset.size, handle.dataset.across] : null;
  });
  addEventListener("resize", lay);
  lay();
}
