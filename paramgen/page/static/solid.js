// The finished thing as a solid that can be turned, closed and filled, drawn on a canvas.
//
//   const solid = mountSolid(element, scene, {signal});
//
// `scene` is what paramgen/drawings/pictures/solid_scene.py says. Where everything stands is worked
// out as in paramgen/solid/posed.py, and what lies before what as in paramgen/solid/looked_at.py;
// the same names are used here. It is seen without perspective, so every face is an affine picture.
// Faces are pictures at data: addresses, which the page's policy must let be images. Nothing moves
// by itself, so that there is no motion to reduce.
//
// Colours come from custom properties of the element: --solid-edge (edges of plies) and --solid-ink
// (lines). What is made has the classes solid, solid-frame, solid-picture, solid-hint, solid-slider.

const GIVES_WAY = 12, LIFTED_OVER = 10, SWINGS_OVER = 10, RIGHT_ANGLE = 90, BEND_PARTS = 8, FAR = 4000, FEW = 12;
const HOME = {turn: -32, tilt: 28};
const STEP = 6, LARGE_STEP = 30, DEGREES_PER_PIXEL = 0.5;
const MARGIN = 1.06, LEAST_HEIGHT = 220, MOST_HEIGHT = 560, MOST_SHARP = 2;

export function mountSolid(element, scene, {signal} = {}) {
  const made = controls(element);
  const state = {...HOME, closed: 0, held: 1};
  let faces = pictures(scene, () => redraw());
  const still = {size: measured(scene), colours: null, asked: 0};
  const on = (target, kind, act, more = {}) => target.addEventListener(kind, act, {...more, signal});
  words(made, scene.says);

  function redraw() {
    if (still.asked || signal?.aborted) return;
    still.asked = requestAnimationFrame(() => { still.asked = 0; draw(); });
  }

  function draw() {
    still.colours ??= coloursOf(made.root);
    paint(made.canvas, scene, state, faces, still);
    say(made, scene, state);
  }

  function turnTo(turn, tilt) {
    state.turn = ((turn + 180) % 360 + 360) % 360 - 180;
    state.tilt = Math.min(90, Math.max(-90, tilt));
    redraw();
  }

  let from = null;
  on(made.canvas, 'pointerdown', (event) => {
    if (event.button) return;
    made.canvas.setPointerCapture(event.pointerId);
    from = {id: event.pointerId, x: event.clientX, y: event.clientY, ...state};
  });
  on(made.canvas, 'pointermove', (event) => {
    if (!from || event.pointerId !== from.id) return;
    turnTo(from.turn + (event.clientX - from.x) * -DEGREES_PER_PIXEL,
           from.tilt + (event.clientY - from.y) * DEGREES_PER_PIXEL);
  });
  for (const kind of ['pointerup', 'pointercancel']) on(made.canvas, kind, () => { from = null; });
  on(made.canvas, 'keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const step = event.shiftKey ? LARGE_STEP : STEP;
    const ways = {ArrowLeft: [step, 0], ArrowRight: [-step, 0], ArrowUp: [0, -step], ArrowDown: [0, step]};
    if (event.key === 'Home') turnTo(HOME.turn, HOME.tilt);
    else if (ways[event.key]) turnTo(state.turn + ways[event.key][0], state.tilt + ways[event.key][1]);
    else return;
    event.preventDefault();
  });
  for (const [name, input] of Object.entries(made.inputs)) {
    on(input, 'input', () => { state[name] = input.valueAsNumber / 100; redraw(); });
  }

  const fresh = () => { still.colours = null; redraw(); };
  for (const asked of ['(prefers-color-scheme: dark)', '(forced-colors: active)']) {
    on(window.matchMedia(asked), 'change', fresh);
  }
  const watched = new ResizeObserver(redraw);
  watched.observe(made.frame);
  const end = () => { watched.disconnect(); cancelAnimationFrame(still.asked); made.root.remove(); };
  signal?.addEventListener('abort', end, {once: true});
  redraw();

  return {
    // Sets any of turn, tilt (degrees), closed and held (0 to 1); what is not named stays.
    show(asked) {
      for (const [name, input] of Object.entries(made.inputs)) {
        if (name in asked) { state[name] = asked[name]; input.valueAsNumber = asked[name] * 100; }
      }
      turnTo(asked.turn ?? state.turn, asked.tilt ?? state.tilt);
    },
    // Shows another scene as this one stands, once its faces are there.
    async take(next) {
      const asked = still.next = {};
      const theirs = pictures(next, () => {});
      await theirs.ready;
      if (still.next !== asked) return;  // a later one has been asked for since
      [scene, faces, still.size] = [next, theirs, measured(next)];
      words(made, scene.says);
      redraw();
    },
    get state() { return {...state}; },
    colours: fresh,
    drawNow: draw,
    get ready() { return faces.ready; },
  };
}

// What a person touches ------------------------------------------------------------------------

let mounted = 0;

function controls(element) {
  const number = ++mounted, inputs = {}, rows = {};
  const root = made('div', {className: 'solid'});
  root.setAttribute('role', 'group');
  const frame = made('div', {className: 'solid-frame'});
  const hint = made('p', {className: 'solid-hint', id: `solid-hint-${number}`});
  const canvas = made('canvas', {className: 'solid-picture', tabIndex: 0});
  canvas.setAttribute('role', 'img');
  canvas.setAttribute('aria-describedby', hint.id);
  Object.assign(canvas.style, {display: 'block', width: '100%', touchAction: 'none', cursor: 'grab',
                               outlineOffset: '-3px'});
  frame.append(canvas);
  root.append(frame, hint);
  for (const [name, start] of [['closed', 0], ['held', 100]]) {
    const input = made('input', {type: 'range', min: 0, max: 100, step: 1, id: `solid-${name}-${number}`});
    input.valueAsNumber = start;
    Object.assign(input.style, {width: '100%', minHeight: '2.5rem', display: 'block'});
    rows[name] = made('p', {className: 'solid-slider'});
    rows[name].append(made('label', {htmlFor: input.id}), input);
    root.append(rows[name]);
    inputs[name] = input;
  }
  element.append(root);
  return {root, frame, canvas, hint, inputs, rows};
}

// What a solid has no use for is not there.
function words({root, hint, rows}, says) {
  root.setAttribute('aria-label', says.label);
  hint.textContent = says.turn;
  for (const [name, text] of [['closed', says.closing], ['held', says.holding]]) {
    rows[name].firstChild.textContent = text;
    rows[name].hidden = !text;
  }
}

function made(kind, properties) {
  return Object.assign(document.createElement(kind), properties);
}

function say({canvas, inputs, rows}, {says, outer}, state) {
  const facing = looking(state)[2][2] * outer >= 0 ? says.front : says.back;
  const closed = Math.round(state.closed * 100), held = Math.round(state.held * 100);
  const words = [says.label, facing];
  if (!rows.closed.hidden) {
    const now = closed === 0 ? says.opened : closed === 100 ? says.closed : `${says.closed}: ${closed} %`;
    inputs.closed.setAttribute('aria-valuetext', now);
    words.push(now);
  }
  if (!rows.held.hidden) {
    const now = held === 0 ? says.out : held === 100 ? says.in : `${says.in}: ${held} %`;
    inputs.held.setAttribute('aria-valuetext', now);
  }
  const label = words.join(', ');
  if (canvas.getAttribute('aria-label') !== label) canvas.setAttribute('aria-label', label);
}

function coloursOf(root) {
  const style = getComputedStyle(root);
  const named = (name, other) => style.getPropertyValue(name).trim() || other;
  return {edge: named('--solid-edge', '#c9cfd5'), ink: named('--solid-ink', '#1a222b')};
}

// Where everything stands ----------------------------------------------------------------------

const clamp = (value) => Math.min(1, Math.max(0, value));
const total = (numbers) => numbers.reduce((sum, one) => sum + one, 0);
const thickness = (slab) => slab.heights[slab.heights.length - 1];

// A place is three rows of four numbers.
const NOWHERE = [[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, 0]];

function times(a, b) {
  return a.map((row) => [0, 1, 2, 3].map((k) =>
    row[0] * b[0][k] + row[1] * b[1][k] + row[2] * b[2][k] + (k === 3 ? row[3] : 0)));
}

function at(place, x, y, z) {
  return place.map((row) => row[0] * x + row[1] * y + row[2] * z + row[3]);
}

function into({start, end}) {
  const dx = end[0] - start[0], dy = end[1] - start[1], long = Math.hypot(dx, dy);
  return [dy / long, -dx / long];
}

function turned(hinge, degrees, axis) {
  const [nx, ny] = into(hinge), ex = -ny, ey = nx, [ax, ay] = hinge.start;
  const c = Math.cos(degrees * Math.PI / 180), s = Math.sin(degrees * Math.PI / 180) * hinge.side;
  const rows = [
    [ex * ex + c * nx * nx, ex * ey + c * nx * ny, -s * nx],
    [ex * ey + c * nx * ny, ey * ey + c * ny * ny, -s * ny],
    [s * nx, s * ny, c],
  ];
  const there = [ax, ay, axis];
  return rows.map((row, k) => [...row, there[k] - (row[0] * ax + row[1] * ay + row[2] * axis)]);
}

// The part of a ring beyond a line: points p with way . p >= beyond (Sutherland and Hodgman).
function beyond(ring, way, least) {
  const found = [];
  ring.forEach((point, k) => {
    const next = ring[(k + 1) % ring.length];
    const a = point[0] * way[0] + point[1] * way[1] - least;
    const b = next[0] * way[0] + next[1] * way[1] - least;
    if (a >= 0) found.push(point);
    if ((a >= 0) !== (b >= 0)) {
      const t = a / (a - b);
      found.push([point[0] + t * (next[0] - point[0]), point[1] + t * (next[1] - point[1])]);
    }
  });
  return found;
}

const cutBeyond = (rings, way, least) =>
  rings.map((ring) => beyond(ring, way, least)).filter((ring) => ring.length > 2);
const cutBefore = (rings, way, most) => cutBeyond(rings, [-way[0], -way[1]], -most);
const movedBy = (rings, dx, dy) => rings.map((ring) => ring.map(([x, y]) => [x + dx, y + dy]));
const alongWay = (rings, way) => rings.flat().map(([x, y]) => x * way[0] + y * way[1]);

export function posed(scene, {closed, held}) {
  const {panels} = scene;
  const way = scene.held.map((one) => (1 - clamp(held)) * one.travel);
  const parted = scene.held.map((one, k) =>
    one.thickness * clamp((one.mouth - Math.min(...alongWay(one.outline, one.out)) - way[k]) / GIVES_WAY));
  const onSlab = (slab) => total(slab.holds.map((k) => parted[k]));
  const thick = panels.map(({slabs}) => total(slabs.map((slab) => thickness(slab) + onSlab(slab))));
  const share = (hinge) => clamp((clamp(closed) - hinge.first) / (hinge.last - hinge.first));
  const angle = (hinge) => hinge.opened + (hinge.closed - hinge.opened) * share(hinge);
  const low = [], axis = [], place = [];
  panels.forEach(({hinge, parent, level}, k) => {
    if (!hinge) { low.push(0); axis.push(0); place.push(NOWHERE); return; }
    let mine = low[parent];
    if (level) {
      const under = panels[parent].slabs.slice(0, level[0]);
      mine += total(under.map((slab) => thickness(slab) + onSlab(slab))) + level[1];
    } else if (hinge.side > 0) mine += thick[parent] - thick[k];
    const gap = total(hinge.between.map((one) => thick[one]));
    const sides = low[parent] + mine + (hinge.side > 0 ? thick[parent] + thick[k] : 0);
    low.push(mine);
    axis.push(hinge.axis ?? (sides + hinge.side * gap) / 2);
    place.push(times(place[parent], turned(hinge, angle(hinge), axis[k])));
  });

  const plates = [], bends = [];
  panels.forEach((panel, index) => {
    const spent = panel.hinge ? panel.hinge.spends * share(panel.hinge) : 0;
    let height = low[index];
    panel.slabs.forEach((slab, number) => {
      for (const part of slab.outline) {
        let rings = part, moved = [0, 0];
        if (spent) {
          const way = into(panel.hinge), [x, y] = panel.hinge.start;
          rings = cutBeyond(part, way, x * way[0] + y * way[1] + spent);
          moved = [-way[0] * spent, -way[1] * spent];
        }
        if (rings.length) {
          plates.push({panel: index, slab: number, held: -1, rings: movedBy(rings, ...moved), moved,
                       low: height, high: height + thickness(slab), place: place[index],
                       heights: slab.heights, cut: spent > 0});
        }
      }
      height += thickness(slab);
      for (const one of slab.holds) {
        plates.push(...heldPlates(index, one, height));
        height += parted[one];
      }
    });
    if (panel.hinge) bends.push(...bendsOf(index, panel));
  });
  return {plates, bends};

  function heldPlates(index, number, height) {
    const one = scene.held[number], moved = [one.out[0] * way[number], one.out[1] * way[number]];
    const lies = movedBy(one.outline, ...moved), off = standsOff(one, lies);
    if (off === null && way[number] > 0) return [];
    let flat = off ? cutBefore(lies, one.out, one.mouth) : lies;
    const within = panels.filter((panel) => panel.slabs.some((slab) => slab.holds.includes(number)));
    if (within.length > 1) flat = withinTerritory(flat, index);
    const found = [];
    const plate = (rings, where) => {
      if (rings.length) {
        found.push({panel: index, slab: -1, held: number, rings, moved, low: height,
                    high: height + one.thickness, place: where, heights: [one.thickness], cut: true});
      }
    };
    plate(flat, place[index]);
    if (off && index === one.panel) {
      const start = [one.out[0] * one.mouth, one.out[1] * one.mouth];
      const end = [start[0] - one.out[1], start[1] + one.out[0]];
      const top = low[index] + thick[index], high = height + one.thickness;
      let lift = 0;
      if (one.stands) lift = one.side > 0 ? Math.max(0, top - height) : Math.min(0, low[index] - high);
      const turn = turned({start, end, side: one.side}, off, one.side < 0 ? height : high);
      turn[2][3] += lift;
      plate(cutBeyond(lies, one.out, one.mouth), times(place[index], turn));
    }
    return found;
  }

  function standsOff(one, lies) {
    const past = Math.max(...alongWay(lies, one.out)) - one.mouth;
    if (past <= 0) return 0;
    let most = 0;
    for (const [index, {hinge, parent}] of panels.entries()) {
      if (!hinge || (one.panel !== index && one.panel !== parent)) continue;
      const {start, end} = hinge;
      const across = Math.abs((end[0] - start[0]) * one.out[0] + (end[1] - start[1]) * one.out[1]);
      const away = start[0] * one.out[0] + start[1] * one.out[1] - one.mouth;
      const along = across < 0.1 * Math.hypot(end[0] - start[0], end[1] - start[1]);
      if (!along || away <= 0 || hinge.side !== one.side || hinge.closed <= 0) continue;
      const over = past - away;
      if (over <= 0) continue;
      const stands = angle(hinge);
      if (stands > RIGHT_ANGLE) return null;
      const panel = one.panel === index ? parent : index;
      const bent = Math.asin(Math.min(1, away * Math.sin(stands * Math.PI / 180) / past));
      const lifted = Math.atan2(thick[panel] + one.thickness, Math.max(away, 1))
        * Math.min(1, over / LIFTED_OVER);
      most = Math.max(most, stands + (lifted - bent) * 180 / Math.PI);
    }
    const left = past + one.mouth - Math.max(...alongWay(one.outline, one.out));
    return Math.max(most, one.stands * Math.min(1, left / SWINGS_OVER));
  }

  function withinTerritory(rings, index) {
    panels.forEach(({hinge, parent}, number) => {
      if (!hinge || (index !== number && index !== parent)) return;
      const way = into(hinge), far = hinge.start[0] * way[0] + hinge.start[1] * way[1];
      rings = index === number ? cutBeyond(rings, way, far) : cutBefore(rings, way, far);
    });
    return rings;
  }

  function reaches(index, hinge, end) {
    const {slabs} = panels[index], [first, last] = hinge.reach?.[end] ?? [0, slabs.length - 1];
    const under = (count) => low[index] + total(slabs.slice(0, count).map((slab) => thickness(slab) + onSlab(slab)));
    return [under(first), under(last) + thickness(slabs[last])];
  }

  function bendsOf(index, {hinge, parent, level}) {
    const degrees = angle(hinge), mine = reaches(index, hinge, 1);
    if (degrees <= 0) return [];
    const theirs = level ? mine : reaches(parent, hinge, 0);
    return hinge.edges.map((edge) => {
      const inner = [], outer = [];
      for (let k = 0; k <= BEND_PARTS; k++) {
        const part = k / BEND_PARTS;
        const where = times(place[parent], turned(hinge, degrees * part, axis[index]));
        const [back, front] = [0, 1].map((k) => (1 - part) * theirs[k] + part * mine[k]);
        const [near, far] = hinge.side < 0 ? [back, front] : [front, back];
        inner.push(edge.map(([x, y]) => at(where, x, y, near)));
        outer.push(edge.map(([x, y]) => at(where, x, y, far)));
      }
      return {panel: index, inner, outer, bend: true};
    });
  }
}

// What lies before what ------------------------------------------------------------------------

function looking({turn, tilt}) {
  const a = turn * Math.PI / 180, b = tilt * Math.PI / 180;
  const ca = Math.cos(a), sa = Math.sin(a), cb = Math.cos(b), sb = Math.sin(b);
  return [[ca, 0, -sa], [sb * sa, cb, sb * ca], [cb * sa, -sb, cb * ca]];
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a) => { const long = Math.hypot(...a) || 1; return a.map((one) => one / long); };

function boxed(body) {
  if (body.bend) {
    const points = [...body.inner, ...body.outer].flat();
    const along = minus(body.outer[0][1], body.outer[0][0]);
    const through = minus(body.outer[0][0], body.inner[0][0]);
    return {points, axes: [unit(along), unit(through), unit(cross(along, through))]};
  }
  const all = body.rings.flat(), xs = all.map((p) => p[0]), ys = all.map((p) => p[1]);
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const points = [], box = [[left, top], [right, top], [right, bottom], [left, bottom]];
  for (const z of [body.low, body.high]) {
    for (const [x, y] of all.length <= FEW ? all : box) {  // a triangle takes half of its box
      points.push(at(body.place, x, y, z));
    }
  }
  return {points, axes: [0, 1, 2].map((k) => body.place.map((row) => row[k]))};
}

function span(points, axis) {
  let low = Infinity, high = -Infinity;
  for (const point of points) {
    const far = dot(point, axis);
    if (far < low) low = far;
    if (far > high) high = far;
  }
  return [low, high];
}

function nearer(one, other, way) {
  const axes = [...one.axes, ...other.axes];
  for (const a of one.axes) {
    for (const b of other.axes) {
      const both = cross(a, b);
      if (Math.hypot(...both) > 1e-3) axes.push(unit(both));
    }
  }
  let best = -Infinity, answer = null;
  for (const axis of axes) {
    const mine = span(one.points, axis), theirs = span(other.points, axis);
    const above = mine[0] - theirs[1], under = theirs[0] - mine[1], gap = Math.max(above, under);
    const towards = dot(axis, way), rank = gap > -1e-4 ? 1 + Math.abs(towards) : gap * 1e-3;
    if (rank > best) { best = rank; answer = {towards, above: above >= under}; }
  }
  if (Math.abs(answer.towards) < 1e-6) return dot(middle(one.points), way) > dot(middle(other.points), way);
  return answer.above === answer.towards > 0;
}

function middle(points) {
  return [0, 1, 2].map((k) => total(points.map((point) => point[k])) / points.length);
}

function farToNear({plates, bends}, eye) {
  const bodies = [...plates, ...bends], boxes = bodies.map(boxed), way = eye[2];
  const rooms = boxes.map(({points}) => [span(points, eye[0]), span(points, eye[1])]);
  const before = bodies.map(() => new Set());
  const meet = (a, b) => Math.min(a[1], b[1]) - Math.max(a[0], b[0]) > 1e-6;
  for (let one = 0; one < bodies.length; one++) {
    for (let other = 0; other < one; other++) {
      if (!meet(rooms[one][0], rooms[other][0]) || !meet(rooms[one][1], rooms[other][1])) continue;
      if (nearer(boxes[one], boxes[other], way)) before[one].add(other);
      else before[other].add(one);
    }
  }
  const depth = boxes.map(({points}) => dot(middle(points), way));
  const left = new Set(bodies.keys()), order = [];
  while (left.size) {
    let free = [...left].filter((k) => ![...before[k]].some((other) => left.has(other)));
    if (!free.length) free = [...left];
    const next = free.reduce((best, k) => (depth[k] < depth[best] ? k : best));
    order.push(bodies[next]);
    left.delete(next);
  }
  return order;
}

// Painting -------------------------------------------------------------------------------------

// How large it may be in any pose: the middle of it, and the farthest from there.
function measured(scene) {
  const points = scene.panels.flatMap(({slabs}) => slabs.flatMap((slab) => slab.outline.flat(2)));
  const xs = points.map((p) => p[0]), ys = points.map((p) => p[1]);
  const low = [Math.min(...xs), Math.min(...ys)], high = [Math.max(...xs), Math.max(...ys)];
  return {x: (low[0] + high[0]) / 2, y: (low[1] + high[1]) / 2,
          far: Math.hypot(high[0] - low[0], high[1] - low[1]) / 2};
}

// Each face becomes a bitmap once, cut to its outline.
function pictures(scene, loaded) {
  const found = new Map(), waits = [];
  const scale = MOST_HEIGHT * MOST_SHARP / (2 * measured(scene).far);
  const take = (key, face, outline, mirror) => {
    const [left, top, width, height] = face.box;
    const image = new Image();
    waits.push(new Promise((resolve) => {
      image.onload = () => { found.set(key, bitmap()); loaded(); resolve(); };
      image.onerror = resolve;  // it stays plain
    }));
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(face.svg)}`;
    function bitmap() {
      const canvas = made('canvas', {width: Math.ceil(width * scale), height: Math.ceil(height * scale)});
      const paper = canvas.getContext('2d');
      paper.setTransform(scale, 0, 0, scale, -left * scale, -top * scale);
      paper.beginPath();
      for (const part of outline) for (const ring of part) trace(paper, ring.map(([x, y]) => [mirror ? -x : x, y]));
      paper.clip('evenodd');
      paper.drawImage(image, left, top, width, height);
      return {canvas, left, top, scale, mirror};
    }
  };
  scene.panels.forEach(({slabs}, panel) => slabs.forEach((slab, number) => {
    for (const side of ['front', 'back']) take(`${panel}.${number}.${side}`, slab.faces[side], slab.outline, side === 'back');
  }));
  scene.held.forEach((one, k) => take(`held.${k}`, one.face, [one.outline], false));
  found.ready = Promise.all(waits);
  return found;
}

function trace(paper, points) {
  points.forEach(([x, y], k) => (k ? paper.lineTo(x, y) : paper.moveTo(x, y)));
  paper.closePath();
}

function paint(canvas, scene, state, faces, still) {
  const sharp = Math.min(MOST_SHARP, window.devicePixelRatio || 1);
  const width = canvas.clientWidth || 320;
  const height = Math.min(MOST_HEIGHT, Math.max(LEAST_HEIGHT, width * 0.8));
  const pixels = [Math.round(width * sharp), Math.round(height * sharp)];
  if (canvas.width !== pixels[0] || canvas.height !== pixels[1]) {
    [canvas.width, canvas.height] = pixels;
    canvas.style.height = `${height}px`;
  }
  const paper = canvas.getContext('2d');
  paper.setTransform(1, 0, 0, 1, 0, 0);
  paper.clearRect(0, 0, ...pixels);
  paper.lineJoin = 'round';
  const {size, colours} = still, eye = looking(state);
  const scale = Math.min(...pixels) / (2 * size.far * MARGIN);
  const bodies = farToNear(posed(scene, state), eye);
  const centre = centreOf(bodies, eye);
  const project = (point) => [
    pixels[0] / 2 + scale * (dot(eye[0], point) - centre[0]),
    pixels[1] / 2 + scale * (dot(eye[1], point) - centre[1]),
  ];
  for (const body of bodies) {
    if (body.bend) paintBend(paper, body, scene, eye, project, colours, sharp);
    else paintPlate(paper, body, scene, faces, eye, project, scale, colours, sharp);
  }
}

function centreOf(bodies, eye) {
  const points = bodies.flatMap((body) => boxed(body).points);
  return [0, 1].map((k) => { const [low, high] = span(points, eye[k]); return (low + high) / 2; });
}

function paintPlate(paper, body, scene, faces, eye, project, scale, colours, sharp) {
  const normal = unit(body.place.map((row) => row[2])), towards = dot(normal, eye[2]);
  const held = body.held >= 0 ? scene.held[body.held] : null;
  const heights = [0, ...body.heights];
  // Its walls first: nothing of them lies before the face that is seen.
  for (const ring of body.rings) {
    const shifts = heights.map((height) => ring.map(([x, y]) => project(at(body.place, x, y, body.low + height))));
    const top = shifts[shifts.length - 1], bottom = shifts[0];
    ring.forEach((_, k) => {
      const next = (k + 1) % ring.length;
      const area = (bottom[next][0] - bottom[k][0]) * (top[k][1] - bottom[k][1])
        - (bottom[next][1] - bottom[k][1]) * (top[k][0] - bottom[k][0]);
      if (Math.abs(area) < 0.01) return;
      paper.beginPath();
      trace(paper, [bottom[k], bottom[next], top[next], top[k]]);
      paper.fillStyle = paper.strokeStyle = held ? held.fill : colours.edge;
      paper.lineWidth = 0.5 * sharp;
      paper.fill();
      paper.stroke();
      shade(paper, 0.1);
      paper.beginPath();
      for (const shift of shifts) { paper.moveTo(...shift[k]); paper.lineTo(...shift[next]); }
      paper.strokeStyle = colours.ink;
      paper.lineWidth = Math.min(0.7 * sharp, 0.12 * scale);
      paper.stroke();
    });
  }
  if (Math.abs(towards) < 1e-3) return;
  const front = towards > 0, height = front ? body.high : body.low;
  const face = faces.get(held ? `held.${body.held}` : `${body.panel}.${body.slab}.${front ? 'front' : 'back'}`);
  const rings = body.rings.map((ring) => ring.map(([x, y]) => project(at(body.place, x, y, height))));
  const outline = () => { paper.beginPath(); rings.forEach((ring) => trace(paper, ring)); };
  outline();
  if (held || !face) { paper.fillStyle = held ? held.fill : colours.edge; paper.fill('evenodd'); }
  if (face) {
    paper.save();
    if (body.cut) { outline(); paper.clip('evenodd'); }
    // From pixels of the bitmap to those of the picture: affine, as it is seen from afar.
    const [dx, dy] = body.moved, flip = face.mirror ? -1 : 1;
    const origin = project(at(body.place, flip * face.left + dx, face.top + dy, height));
    const right = project(at(body.place, flip * (face.left + 1) + dx, face.top + dy, height));
    const down = project(at(body.place, flip * face.left + dx, face.top + 1 + dy, height));
    const by = 1 / face.scale;
    paper.transform((right[0] - origin[0]) * by, (right[1] - origin[1]) * by,
                    (down[0] - origin[0]) * by, (down[1] - origin[1]) * by, ...origin);
    paper.drawImage(face.canvas, 0, 0);
    paper.restore();
  }
  outline();
  shade(paper, 0.22 * (1 - Math.abs(towards)), 'evenodd');
  paper.strokeStyle = colours.ink;
  paper.lineWidth = 0.9 * sharp;
  paper.stroke();
}

function shade(paper, alpha, rule = 'nonzero') {
  paper.fillStyle = `rgba(10, 20, 30, ${alpha.toFixed(3)})`;
  paper.fill(rule);
}

function paintBend(paper, body, scene, eye, project, colours, sharp) {
  const {hinge} = scene.panels[body.panel];
  const strips = [];
  for (let k = 0; k < BEND_PARTS; k++) {
    for (const [rows, fill] of [[body.inner, hinge.inside], [body.outer, hinge.outside]]) {
      strips.push({quad: [rows[k][0], rows[k][1], rows[k + 1][1], rows[k + 1][0]], side: false, fill});
    }
    for (const end of [0, 1]) {
      const quad = [body.inner[k][end], body.outer[k][end], body.outer[k + 1][end], body.inner[k + 1][end]];
      strips.push({quad, side: true, fill: colours.edge});
    }
  }
  for (const strip of strips) strip.depth = dot(middle(strip.quad), eye[2]);
  strips.sort((a, b) => a.depth - b.depth);
  for (const {quad, side, fill} of strips) {
    const points = quad.map(project);
    const normal = unit(cross(minus(quad[1], quad[0]), minus(quad[3], quad[0])));
    paper.beginPath();
    trace(paper, points);
    paper.fillStyle = paper.strokeStyle = fill;
    paper.lineWidth = 0.7 * sharp;
    paper.fill();
    paper.stroke();
    shade(paper, side ? 0.1 : 0.22 * (1 - Math.abs(dot(normal, eye[2]))));
  }
  paper.strokeStyle = colours.ink;
  paper.lineWidth = 0.7 * sharp;
  paper.beginPath();
  for (const {quad, side} of strips) {
    if (!side) continue;
    for (const [a, b] of [[0, 3], [1, 2]]) { paper.moveTo(...project(quad[a])); paper.lineTo(...project(quad[b])); }
  }
  paper.stroke();
}
