// A scene that turns in the browser, with its controls and its numbers.
//
// Python sends the picture as SVG text with one tooth of each gear; here the tooth is repeated and the
// gears are turned, frame by frame, without a word to the kernel. Python hears of the angle only when it
// has come to rest, and of a control when it is moved.
//
// The model's traits: picture, text, angle, playing, driver_speed, controls, readout, warnings, asked,
// explanation, heading, counts, wide; and one trait for each control, by its name.

const SVG = "http://www.w3.org/2000/svg";
const PIECE = 6;               // teeth in one piece of an outline's line
const REST = 350;              // ms without a key after which an angle counts as settled

// ---------------------------------------------------------------- pure functions (tested on their own)

/** Path data of teeth from..to of a gear of count: one tooth (flat x, y, y downwards) repeated round the origin. */
export function repeatTooth(tooth, count, from = 0, to = count) {
  const parts = [];
  for (let k = from; k < to; k++) {
    const turn = -2 * Math.PI * k / count, cos = Math.cos(turn), sin = Math.sin(turn);
    for (let i = 0; i < tooth.length; i += 2) {
      const x = tooth[i], y = tooth[i + 1];
      parts.push((cos * x - sin * y).toPrecision(7) + "," + (sin * x + cos * y).toPrecision(7));
    }
  }
  return "M" + parts.join(" ");
}

/** Fewer points (flat x, y) for a line that stays within a distance of the given one, ends kept. */
export function simplify(flat, near) {
  const count = flat.length / 2, keep = new Uint8Array(count), todo = [[0, count - 1]];
  keep[0] = keep[count - 1] = 1;
  while (todo.length) {
    const [first, last] = todo.pop();
    const ax = flat[2 * first], ay = flat[2 * first + 1], bx = flat[2 * last] - ax, by = flat[2 * last + 1] - ay, long = Math.hypot(bx, by) || 1;
    let far = near, at = 0;
    for (let i = first + 1; i < last; i++) {
      const off = Math.abs((flat[2 * i] - ax) * by - (flat[2 * i + 1] - ay) * bx) / long;
      if (off > far) { far = off; at = i; }
    }
    if (at) { keep[at] = 1; todo.push([first, at], [at, last]); }
  }
  const out = [];
  for (let i = 0; i < count; i++) if (keep[i]) out.push(flat[2 * i], flat[2 * i + 1]);
  return out;
}

/** Where a sliding shape stands: an offset between low and high, or null while it is out of sight. */
export function slideOffset(angle, [, , perDegree, period, low, high]) {
  let s = Math.abs(perDegree) * angle * Math.sign(perDegree);
  if (period > 0) s -= period * Math.floor((s - low) / period);
  return s >= low && s <= high ? s : null;
}

/** A number as people type it: point or comma, true minus; NaN when it is none. */
export function readNumber(text) {
  const plain = text.trim().replace(/\u2212/g, "-").replace(",", ".");
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : NaN;
}

/** The box of a picture: scale u (units per point) and height (points) for a width, within a greatest height. */
export function fitBox(bounds, margin, width, type, tallest) {
  const [x0, y0, x1, y1] = bounds, [top, right, bottom, left] = margin.map(m => m * type);
  let u = (x1 - x0) / Math.max(width - left - right, 60);
  u = Math.max(u, (y1 - y0) / Math.max(tallest - top - bottom, 60));
  const height = (y1 - y0) / u + top + bottom;
  const middle = (x0 + x1) / 2 + (right - left) / 2 * u;
  return { u, height, x: middle - width * u / 2, y: -y1 - top * u };
}

/** How large type is beside its usual size: smaller in a narrow picture, larger on a projector. */
export function typeScale(width, big) {
  return Math.min(1, Math.max(0.74, width / 560)) * (big ? 1.6 : 1);
}

/** Signed number for reading, with a true minus sign. */
export function say(value, places) {
  const text = value.toFixed(places);
  return (Number(text) === 0 ? text.replace("-", "") : text).replace("-", "\u2212");
}

/** Make an element like another, keeping it and what has not changed (so focus and pointer stay). */
export function morph(old, fresh) {
  if (old.nodeType !== fresh.nodeType || old.nodeName !== fresh.nodeName) { old.replaceWith(fresh); return; }
  if (old.nodeType === 3) { if (old.data !== fresh.data) old.data = fresh.data; return; }
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name) && !(name === "d" && fresh.hasAttribute("data-tooth"))) old.removeAttribute(name);
  for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  const before = [...old.childNodes], after = [...fresh.childNodes];
  after.forEach((node, i) => before[i] ? morph(before[i], node) : old.append(node));
  before.slice(after.length).forEach(node => node.remove());
}

// ---------------------------------------------------------------- small helpers

let serial = 0;

function tools(doc) {
  const make = (tag, props = {}, ...inside) => {
    const node = doc.createElement(tag);
    for (const [name, value] of Object.entries(props)) {
      if (name === "text") node.textContent = value;
      else if (name === "class") node.className = value;
      else if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
      else if (value !== null && value !== undefined && value !== false) node.setAttribute(name, value === true ? "" : value);
    }
    if (["button", "input", "select"].includes(tag)) node.setAttribute("data-lm-suppress-shortcuts", "true");
    node.append(...inside.filter(Boolean));
    return node;
  };
  const write = (node, text) => { if (node.textContent !== text) node.textContent = text; };
  return { make, write };
}

// ---------------------------------------------------------------- the living picture

function livingPicture({ model, root, stage, announce, on, rest, control }) {
  const doc = root.ownerDocument, win = doc.defaultView;
  const calm = win.matchMedia("(prefers-reduced-motion: reduce)");
  let svg = null, turns = [], slides = [], handles = [], teeth = [], fineness = 0;
  let angle = model.get("angle") || 0, playing = !!model.get("playing"), inSight = true, held = null;
  let frame = 0, last = 0, closeUp = 0, closing = 0, lastText = 0, frames = 0;
  const listeners = [];       // called with the angle after it was drawn

  function load() {
    const box = doc.createElement("div");
    box.innerHTML = model.get("picture");
    const fresh = box.querySelector("svg");
    if (!fresh) return;
    for (const path of fresh.querySelectorAll("[data-tooth]")) {
      const edge = doc.createElementNS(SVG, "g");
      edge.setAttribute("class", "gl-edge " + path.getAttribute("class"));
      edge.setAttribute("transform", path.getAttribute("transform"));
      path.after(edge);
    }
    for (const group of fresh.querySelectorAll("[data-name]")) {
      const [cx, cy, , , radius] = group.dataset.turn.split(" ").map(Number);
      const ring = doc.createElementNS(SVG, "circle");
      for (const [name, value] of [["class", "gl-ring"], ["cx", cx], ["cy", -cy], ["r", radius]]) ring.setAttribute(name, value);
      group.append(ring);
      for (const [name, value] of [["role", "slider"], ["tabindex", "0"], ["aria-label", group.dataset.name], ["aria-orientation", "horizontal"],
        ["aria-valuemin", "-36000"], ["aria-valuemax", "36000"], ["data-lm-suppress-shortcuts", "true"]]) group.setAttribute(name, value);
    }
    for (const group of fresh.querySelectorAll("[data-control]")) {
      const [, , radius, x, y] = group.dataset.carry.split(" ").map(Number);
      const ring = doc.createElementNS(SVG, "circle");
      for (const [name, value] of [["class", "gl-ring"], ["cx", x], ["cy", -y], ["r", radius]]) ring.setAttribute(name, value);
      group.append(ring);
      const row = control(group.dataset.control), value = model.get(group.dataset.control), unit = row?.spec.spoken || row?.spec.unit || "";
      for (const [name, value_] of [["role", "slider"], ["tabindex", "0"], ["aria-label", group.dataset.handle], ["aria-valuenow", value],
        ["aria-valuetext", `${say(value, row?.spec.places ?? 2)} ${unit}`], ["aria-valuemin", row?.spec.low], ["aria-valuemax", row?.spec.high], ["data-lm-suppress-shortcuts", "true"]]) group.setAttribute(name, value_);
    }
    for (const name of ["style", "viewBox", "width", "height"]) if (svg?.hasAttribute(name)) fresh.setAttribute(name, svg.getAttribute(name));
    if (svg) morph(svg, fresh);
    else { svg = fresh; stage.prepend(svg); }
    turns = [...svg.querySelectorAll("[data-turn]")].map(el => ({ el, at: el.dataset.turn.split(" ").map(Number) }));
    slides = [...svg.querySelectorAll("[data-slide]")].map(el => ({ el, at: el.dataset.slide.split(" ").map(Number) }));
    handles = turns.filter(t => t.el.dataset.name);
    teeth = [...svg.querySelectorAll("[data-tooth]")].map(el => ({ el, edge: el.nextElementSibling, tooth: el.dataset.tooth.split(" ").map(Number), count: Number(el.dataset.count) }));
    fineness = 0;
    resize();
    draw();
    spoken();
  }

  // Outlines as fine as the eye can use at this size (a twelfth of a pixel): a stroke costs by its points,
  // and sixty frames a second are worth more than corners that nobody can see.
  function outlines(u) {
    const near = u / (12 * (win.devicePixelRatio || 1));
    if (fineness && near > fineness * 0.6 && near < fineness * 3) return;
    fineness = near;
    for (const { el, edge, tooth, count } of teeth) {
      const fine = simplify(tooth, near);
      el.setAttribute("d", repeatTooth(fine.slice(0, -2), count) + "Z");
      // the line in pieces of a few teeth: a browser draws in tiles, and skips the pieces that miss a tile
      const pieces = [];
      for (let k = 0; k < count; k += PIECE) {
        const piece = doc.createElementNS(SVG, "path");
        piece.setAttribute("d", repeatTooth(fine, count, k, Math.min(count, k + PIECE)));
        pieces.push(piece);
      }
      edge.replaceChildren(...pieces);
    }
  }

  function resize() {
    const width = stage.clientWidth;
    if (!svg || !width) return;
    const big = root.classList.contains("gl-big");
    const type = typeScale(width, big);
    const numbers = name => svg.dataset[name].split(" ").map(Number);
    const tallest = Math.max(260, Math.min(big ? 1400 : 620, win.innerHeight * 0.8));
    const box = fitBox(numbers("bounds"), numbers("margin"), width, type, tallest);
    let { u, x, y } = box;
    if (closeUp > 0 && svg.dataset.focus) {
      const [fx, fy, across] = numbers("focus");
      const near = across / width, t = closeUp * closeUp * (3 - 2 * closeUp);
      const zoomed = Math.exp(Math.log(u) + (Math.log(near) - Math.log(u)) * t);
      const share = (u - zoomed) / (u - near || 1);
      x += (fx - width * near / 2 - x) * share;
      y += (-fy - box.height * near / 2 - y) * share;
      u = zoomed;
    }
    svg.setAttribute("viewBox", `${x} ${y} ${width * u} ${box.height * u}`);
    svg.setAttribute("width", width);
    svg.setAttribute("height", box.height);
    outlines(u);
    svg.style.setProperty("--u", u);
    svg.style.setProperty("--type", type);
    for (const el of svg.querySelectorAll("[data-fits]")) {
      const [room, wide] = el.dataset.fits.split(" ").map(Number);
      el.style.visibility = wide * type <= room / u ? "" : "hidden";
    }
  }

  function draw() {
    for (const { el, at: [cx, cy, speed] } of turns) {
      el.setAttribute("transform", `rotate(${-(angle * speed % 360)} ${cx} ${-cy})`);
    }
    for (const { el, at } of slides) {
      const s = slideOffset(angle, at);
      if (s === null) { el.style.display = "none"; continue; }
      el.style.display = "";
      el.setAttribute("transform", `translate(${at[0] * s} ${-at[1] * s})`);
    }
    for (const listener of listeners) listener(angle);
  }

  function step(now) {
    frame = 0;
    if (!moving()) return;
    // a page that was stopped for a while goes on from where it was
    angle += model.get("driver_speed") * 6e-3 * Math.min(now - last, 100);
    last = now;
    frames += 1;
    draw();
    frame = win.requestAnimationFrame(step);
  }

  const moving = () => playing && inSight && !doc.hidden && !held && !calm.matches && model.get("driver_speed") !== 0;

  function run() {
    if (moving()) { if (!frame) { last = win.performance.now(); frame = win.requestAnimationFrame(step); } }
    else if (frame) { win.cancelAnimationFrame(frame); frame = 0; }
  }

  // what a screen reader says of each gear; only when it has come to rest
  function spoken() {
    for (const { el, at: [, , speed, pitch] } of handles) {
      const own = angle * speed;
      el.setAttribute("aria-valuenow", own.toFixed(2));
      el.setAttribute("aria-valuetext", `${say(own, 1)} degrees` + (pitch ? `, ${say(own / pitch, 2)} teeth` : ""));
    }
  }

  let resting = 0;
  function settle(now = false) {
    win.clearTimeout(resting);
    const done = () => {
      spoken();
      if (handles.length) announce(handles.map(({ el, at }) => `${el.dataset.name.split(",")[0]} at ${say(angle * at[2], 1)} degrees`).join("; "));
      const tidy = Math.round(angle * 1e6) / 1e6;
      if (model.get("angle") !== tidy) { model.set("angle", tidy); model.save_changes(); }
    };
    if (now) done(); else resting = win.setTimeout(done, REST);
  }

  function turnBy(degrees, speed = 1) {
    angle += degrees / speed;
    draw();
    settle();
  }

  function play(wanted) {
    if (calm.matches) { playing = false; turnBy(1); return; }     // without motion, each press is a step
    playing = wanted;
    if (model.get("playing") !== playing) { model.set("playing", playing); model.save_changes(); }
    if (!playing) settle(true);
    run();
    rest.playing(playing);
  }

  function home() { angle = 0; draw(); settle(); }

  // keys on a gear: it turns itself by one degree, and the other with it
  on(stage, "keydown", event => {
    const carried = event.target.closest?.("[data-control]");
    if (carried && !(event.ctrlKey || event.metaKey || event.altKey)) {
      const row = control(carried.dataset.control), small = event.shiftKey ? row.spec.step / 10 : row.spec.step;
      const by = { ArrowRight: small, ArrowUp: small, ArrowLeft: -small, ArrowDown: -small, PageUp: row.spec.page, PageDown: -row.spec.page }[event.key];
      if (by !== undefined) { event.preventDefault(); row.by(by); }
      if (event.key === "Home" && row.spec.home !== undefined) { event.preventDefault(); row.give(row.spec.home); }
      return;
    }
    const group = event.target.closest?.("[data-turn]");
    if (!group || event.ctrlKey || event.metaKey || event.altKey) return;
    const [, , speed, pitch] = group.dataset.turn.split(" ").map(Number);
    const fine = event.shiftKey ? 0.1 : 1;
    const act = {
      ArrowRight: () => turnBy(fine, speed), ArrowUp: () => turnBy(fine, speed),
      ArrowLeft: () => turnBy(-fine, speed), ArrowDown: () => turnBy(-fine, speed),
      PageUp: () => turnBy(pitch, speed), PageDown: () => turnBy(-pitch, speed),
      Home: home, " ": () => play(!playing),
    }[event.key];
    if (!act) return;
    event.preventDefault();
    if (event.key !== " ") pause();
    act();
  });

  function pause() { if (playing && !calm.matches) play(false); }

  // dragging: the point under the pointer stays under it
  const point = event => new win.DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  const place = event => {
    const at = point(event), [cx, cy] = held.at;
    return Math.atan2(-at.y - cy, at.x - cx) * 180 / Math.PI;
  };
  on(stage, "pointerdown", event => {
    const carried = event.target.closest?.("[data-control]"), group = event.target.closest?.("[data-turn]");
    if (event.button) return;
    if (carried) {
      const at = point(event);
      held = { id: event.pointerId, row: control(carried.dataset.control), from: at, value: model.get(carried.dataset.control), along: carried.dataset.carry.split(" ").map(Number) };
      svg.setPointerCapture?.(event.pointerId);
      carried.focus({ preventScroll: true });
      root.classList.add("gl-held");
      event.preventDefault();
      return;
    }
    if (!group) return;
    held = { at: group.dataset.turn.split(" ").map(Number), id: event.pointerId };
    held.was = place(event);
    svg.setPointerCapture?.(event.pointerId);
    group.focus({ preventScroll: true });
    root.classList.add("gl-held");
    run();
    event.preventDefault();
  });
  on(stage, "pointermove", event => {
    if (!held || event.pointerId !== held.id) return;
    if (held.row) {
      const at = point(event), { spec } = held.row;
      const moved = (at.x - held.from.x) * held.along[0] - (at.y - held.from.y) * held.along[1];
      held.row.give(Math.round((held.value + moved) / spec.step) * spec.step);
      return;
    }
    const now = place(event), moved = ((now - held.was + 540) % 360) - 180;
    held.was = now;
    angle += moved / held.at[2];
    draw();
  });
  const release = event => {
    if (!held || event.pointerId !== held.id) return;
    const carried = held.row;
    held = null;
    root.classList.remove("gl-held");
    if (carried) return;
    if (moving()) run(); else settle(true);
  };
  on(stage, "pointerup", release);
  on(stage, "pointercancel", release);

  const sight = new win.IntersectionObserver(entries => { inSight = entries.at(-1).isIntersecting; run(); });
  sight.observe(stage);
  const sizes = new win.ResizeObserver(resize);
  sizes.observe(stage);
  on(doc, "visibilitychange", run);
  on(calm, "change", () => { run(); rest.playing(playing); });

  function zoom(near) {
    const from = closeUp, to = near ? 1 : 0, begun = win.performance.now();
    win.cancelAnimationFrame(closing);
    const go = now => {
      const t = calm.matches ? 1 : Math.min(1, (now - begun) / 350);
      closeUp = from + (to - from) * t;
      resize();
      if (t < 1) closing = win.requestAnimationFrame(go);
    };
    go(begun + (calm.matches ? 350 : 0));
  }

  return {
    load, run, play, turnBy, home, pause, zoom, resize, calm,
    get angle() { return angle; }, get playing() { return playing; }, get frames() { return frames; },
    get handles() { return handles.map(({ el, at }) => ({ name: el.dataset.name, speed: at[2], pitch: at[3] })); },
    get hasFocus() { return !!svg?.dataset.focus; },
    listen: listener => listeners.push(listener),
    fromPython() {
      const asked = model.get("angle");
      if (Math.abs(asked - angle) > 1e-6 && !held && !frame) { angle = asked; draw(); spoken(); }
      if (!!model.get("playing") !== playing) { playing = !!model.get("playing"); rest.playing(playing); }
      run();
    },
    stop() {
      win.cancelAnimationFrame(frame); win.cancelAnimationFrame(closing); win.clearTimeout(resting);
      frame = 0; playing = false;
      sight.disconnect(); sizes.disconnect();
    },
  };
}

// ---------------------------------------------------------------- play bar

function playBar({ model, make, write, picture, on }) {
  const button = (text, name, act) => make("button", { type: "button", class: "gl-button", text, "aria-label": name, title: name, onclick: act });
  const gear = () => picture.handles[0];
  const turn = sign => () => { picture.pause(); picture.turnBy(sign, 1); };
  const tooth = sign => () => { picture.pause(); picture.turnBy(sign * (gear()?.pitch || 10), gear()?.speed || 1); };
  const start = make("button", { type: "button", class: "gl-button gl-play", onclick: () => picture.play(!picture.playing) });
  const read = make("span", { class: "gl-angles", "aria-hidden": "true" });
  const speed = make("input", { type: "range", min: -30, max: 30, step: 1, class: "gl-speed", "aria-label": "Driver speed" });
  const shown = make("span", { class: "gl-speed-value", "aria-hidden": "true" });
  const way = rpm => rpm > 0 ? "counter-clockwise" : rpm < 0 ? "clockwise" : "at rest";
  const tell = () => {
    const rpm = Number(speed.value);
    write(shown, `${say(Math.abs(rpm), 0)} rpm ${rpm > 0 ? "\u21ba" : rpm < 0 ? "\u21bb" : ""}`);
    speed.setAttribute("aria-valuetext", `${Math.abs(rpm)} rpm ${way(rpm)}`);
  };
  speed.addEventListener("input", () => { tell(); model.set("driver_speed", Number(speed.value)); model.save_changes(); picture.run(); });
  const bar = make("div", { class: "gl-bar", role: "group", "aria-label": "Turning" },
    button("\u2212\u2009tooth", "Back one tooth", tooth(-1)), button("\u2212\u20091\u00b0", "Back one degree", turn(-1)), start,
    button("+\u20091\u00b0", "On one degree", turn(1)), button("+\u2009tooth", "On one tooth", tooth(1)),
    button("0\u00b0", "Back to the start", () => { picture.pause(); picture.home(); }),
    make("label", { class: "gl-speed-label" }, make("span", { text: "Speed" }), speed, shown), read);
  let told = 0;
  const angles = angle => {
    const now = performance.now();
    if (picture.playing && now - told < 100) return;      // ten times a second is enough for reading
    told = now;
    const turnsToo = model.get("counts");
    write(read, picture.handles.map(({ name, speed: s }) => {
      const letter = /\b([AB])\b/.exec(name)?.[1] ?? "";
      return `${letter} ${turnsToo ? say(angle * s / 360, 2) + " turns" : say(angle * s, 1) + "\u00b0"}`.trim();
    }).join("   "));
  };
  picture.listen(angles);
  return {
    bar,
    playing(yes) {
      const text = picture.calm.matches ? "Step 1\u00b0" : yes ? "Pause" : "Play";
      write(start, text);
      start.setAttribute("aria-label", picture.calm.matches ? "Step one degree" : yes ? "Pause turning" : "Play turning");
      told = 0;
      angles(picture.angle);
    },
    speed() { speed.value = model.get("driver_speed"); tell(); },
  };
}

// ---------------------------------------------------------------- controls

function controlRow({ model, make, write, spec, changed }) {
  const id = `gl-${++serial}`;
  const send = value => { if (model.get(spec.name) !== value) { model.set(spec.name, value); model.save_changes(); changed(); } };
  if (spec.kind === "choice") {
    const select = make("select", { id, class: "gl-select" });
    const fill = () => {
      select.replaceChildren(...spec.options.map(([value, text]) => make("option", { value: String(value), text })));
      select.value = String(model.get(spec.name));
    };
    select.addEventListener("change", () => send(spec.options.find(([value]) => String(value) === select.value)[0]));
    fill();
    return { row: make("div", { class: "gl-control" }, make("label", { for: id, text: spec.label }), select), refresh: fill };
  }
  if (spec.kind === "switch") {
    const box = make("input", { id, type: "checkbox" });
    box.addEventListener("change", () => send(box.checked));
    const refresh = () => { box.checked = !!model.get(spec.name); };
    refresh();
    return { row: make("div", { class: "gl-control gl-switch" }, box, make("label", { for: id, text: spec.label })), refresh };
  }
  // a number: slider, field and two step buttons
  const places = spec.places ?? 0, unit = spec.unit ? ` ${spec.unit}` : "";
  const tidy = value => Number(value.toFixed(places + (spec.fine ? 1 : 0)));
  const slider = make("input", { type: "range", class: `gl-slider of-${spec.of || "none"}`, min: spec.low, max: spec.high, step: "any", "aria-label": spec.label });
  const field = make("input", { id, type: "text", inputmode: "decimal", class: "gl-field", autocomplete: "off", "aria-describedby": `${id}-note` });
  const note = make("span", { id: `${id}-note`, class: "gl-note", role: "alert" });
  const show = value => {
    slider.value = value;
    slider.setAttribute("aria-valuetext", `${say(value, Number.isInteger(value) ? 0 : places)}${spec.spoken ? " " + spec.spoken : unit}`);
    field.value = say(value, Math.abs(value - Number(value.toFixed(places))) > 1e-9 ? places + 1 : places);
    field.removeAttribute("aria-invalid");
    write(note, "");
  };
  const give = value => { show(value); send(value); };
  const by = amount => give(tidy(Math.min(spec.high, Math.max(spec.low, model.get(spec.name) + amount))));
  slider.addEventListener("input", () => give(tidy(Math.round(slider.value / spec.step) * spec.step)));
  slider.addEventListener("keydown", event => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const small = spec.fine && event.shiftKey ? spec.step / 10 : spec.step;
    const act = {
      ArrowRight: () => by(small), ArrowUp: () => by(small), ArrowLeft: () => by(-small), ArrowDown: () => by(-small),
      PageUp: () => by(spec.page), PageDown: () => by(-spec.page), Home: () => give(spec.low), End: () => give(spec.high),
    }[event.key];
    if (act) { event.preventDefault(); act(); }
  });
  field.addEventListener("change", () => {
    const value = readNumber(field.value);
    const wrong = Number.isNaN(value) ? "is not a number" : !spec.fine && places === 0 && !Number.isInteger(value) ? "is not whole"
      : value < spec.low ? "is too small" : value > spec.high ? "is too large" : "";
    if (!wrong) { give(value); return; }
    field.setAttribute("aria-invalid", "true");
    write(note, `${field.value.trim() || "nothing"} ${wrong}: from ${say(spec.low, places)} to ${say(spec.high, places)}${unit}`);
  });
  const stepButton = (text, sign, word) => make("button", { type: "button", class: "gl-button gl-step", text, "aria-label": `${spec.label}: ${word}`, onclick: () => by(sign * spec.step) });
  show(model.get(spec.name));
  return {
    name: spec.name, spec, by, give: value => give(tidy(Math.min(spec.high, Math.max(spec.low, value)))),
    row: make("div", { class: "gl-control", role: "group", "aria-label": spec.label },
      make("label", { for: id }, spec.of ? make("span", { class: `gl-letter of-${spec.of}`, "aria-hidden": "true", text: spec.of === "driver" ? "A" : "B" }) : null, spec.label),
      make("div", { class: "gl-number" }, stepButton("\u2212", -1, "less"), slider, stepButton("+", 1, "more"), field, spec.unit ? make("span", { class: "gl-unit", text: spec.unit }) : null), note),
    refresh() { if (field !== field.ownerDocument.activeElement || Number(readNumber(field.value)) !== model.get(spec.name)) show(model.get(spec.name)); },
  };
}

function controlPanel(kit) {
  const { model, make } = kit;
  const panel = make("div", { class: "gl-controls" });
  let rows = [], shape = "";
  return {
    panel,
    build() {
      const specs = model.get("controls") || [], now = JSON.stringify(specs);
      if (now === shape) { rows.forEach(row => row.refresh()); return; }
      // a changed list of options may stand where the focus is: keep the place
      const at = [...panel.querySelectorAll("input,select,button")].indexOf(panel.ownerDocument.activeElement);
      shape = now;
      rows = specs.map(spec => controlRow({ ...kit, spec }));
      panel.replaceChildren(...rows.map(row => row.row));
      panel.hidden = !rows.length;
      if (at >= 0) panel.querySelectorAll("input,select,button")[at]?.focus();
    },
    refresh() { rows.forEach(row => row.refresh()); },
    row: name => rows.find(row => row.name === name),
  };
}

// ---------------------------------------------------------------- readout: every number, and why

function readoutPanel({ model, make, write }) {
  const panel = make("div", { class: "gl-readout" });
  let cells = new Map(), shape = "", open = "";
  const show = word => {
    open = open === word ? "" : word;
    model.set("asked", open);
    model.save_changes();
    explain();
  };
  function build() {
    const groups = model.get("readout") || [];
    const now = JSON.stringify(groups.map(g => [g.title, g.columns, g.rows.map(r => [r.label, r.cells.map(c => c.word)])]));
    if (now !== shape) {
      shape = now;
      cells = new Map();
      panel.replaceChildren(...groups.map(group => make("table", { class: "gl-table" },
        make("caption", { text: group.title }),
        group.columns.length ? make("thead", {}, make("tr", {}, make("td"),
          ...group.columns.map((name, i) => make("th", { scope: "col", class: `of-${["driver", "driven"][i]}`, text: name })))) : null,
        make("tbody", {}, ...group.rows.flatMap(row => {
          const id = `gl-${++serial}`;
          const why = make("div", { class: "gl-why", id, role: "region", tabindex: 0, "aria-label": `Why: ${row.label}`, "data-lm-suppress-shortcuts": "true" });
          const under = make("tr", { class: "gl-why-row", hidden: true }, make("td", { colspan: 1 + Math.max(1, group.columns.length) }, why));
          const line = make("tr", {}, make("th", { scope: "row", text: row.label }), ...row.cells.map((cell, i) => {
            const told = cell.explained !== false;
            const button = told ? make("button", { type: "button", class: "gl-value", "aria-expanded": "false", "aria-controls": id, onclick: () => show(cell.word) })
              : make("span", { class: "gl-given" });
            cells.set(cell.word, { told, button, why, under, spoken: row.label + (group.columns[i] ? `, ${group.columns[i]}` : "") });
            return make("td", {}, button);
          }));
          return [line, under];
        })))));
      panel.hidden = !groups.length;
      if (open && !cells.has(open)) open = "";
    }
    for (const group of groups) for (const row of group.rows) for (const cell of row.cells) {
      const place = cells.get(cell.word);
      if (!place) continue;
      write(place.button, cell.text);
      if (place.told) place.button.setAttribute("aria-label", `${place.spoken}: ${cell.text}. Why?`);
      place.button.classList.toggle("gl-alarm", !!cell.alarm);
    }
    explain();
  }
  function explain() {
    const told = model.get("explanation") || {};
    const shown = cells.get(open);
    for (const place of cells.values()) {
      if (place.told) place.button.setAttribute("aria-expanded", String(place === shown));
      place.under.hidden = place.under !== shown?.under;
    }
    if (!shown) return;
    const html = told.word === open ? told.html : "\u2026";
    if (shown.why.dataset.html !== html) { shown.why.dataset.html = html; shown.why.innerHTML = html; }
  }
  return { panel, build, explain };
}

// ---------------------------------------------------------------- all of it together

function render({ model, el }) {
  const doc = el.ownerDocument, win = doc.defaultView;
  const { make, write } = tools(doc);
  const undo = [];
  const on = (target, type, act, options) => { target.addEventListener(type, act, options); undo.push(() => target.removeEventListener(type, act, options)); };
  const hear = (names, act) => names.split(" ").forEach(name => { model.on(`change:${name}`, act); undo.push(() => model.off(`change:${name}`, act)); });

  const root = make("div", { class: "gl", role: "group" });
  const heading = make("div", { class: "gl-heading", role: "heading", "aria-level": "3" });
  const stage = make("div", { class: "gl-stage" });
  const status = make("div", { class: "gl-status", role: "status" });
  const caption = make("p", { class: "gl-caption" });
  const warnings = make("ul", { class: "gl-warnings" });
  const announce = text => write(status, text);

  // keys that belong to the widget stay in it: the notebook would delete or insert cells; Escape leads back to the cell
  on(root, "keydown", event => {
    if (event.key === "Escape" && !event.defaultPrevented) root.closest(".jp-Cell")?.focus();
    const run = event.key === "Enter" && event.shiftKey;
    if (!(event.ctrlKey || event.metaKey || event.altKey || run)) event.stopPropagation();
  });

  const rest = { playing: () => {} };
  const picture = livingPicture({ model, root, stage, announce, on, rest, control: name => controls.row(name) });
  const bar = playBar({ model, make, write, picture, on });
  rest.playing = bar.playing;

  let speaking = 0;
  const changed = () => {
    win.clearTimeout(speaking);
    speaking = win.setTimeout(() => announce([model.get("text"), ...(model.get("warnings") || []).map(w => w.text)].join(" ")), 900);
  };
  const kit = { model, make, write, changed };
  const controls = controlPanel(kit), readout = readoutPanel(kit);

  const toggle = (text, name, act) => {
    const button = make("button", { type: "button", class: "gl-button gl-toggle", text, title: name, "aria-pressed": "false", onclick: () => {
      const yes = button.getAttribute("aria-pressed") !== "true";
      button.setAttribute("aria-pressed", String(yes));
      act(yes);
    } });
    return button;
  };
  const near = toggle("Close-up", "Show the teeth in mesh, enlarged", yes => picture.zoom(yes));
  const big = toggle("Large type", "Larger type and lines, for a projector", yes => { root.classList.toggle("gl-big", yes); picture.resize(); });

  root.append(make("div", { class: "gl-head" }, heading, make("div", { class: "gl-tools" }, near, big)), controls.panel,
    make("div", { class: "gl-main" }, make("div", { class: "gl-left" }, stage, bar.bar, warnings, caption), readout.panel), status);
  el.append(root);

  function words() {
    write(heading, model.get("heading") || "");
    root.setAttribute("aria-label", model.get("heading") || "Living picture");
    write(caption, model.get("text") || "");
    const list = model.get("warnings") || [];
    if (warnings.dataset.now !== JSON.stringify(list)) {
      warnings.dataset.now = JSON.stringify(list);
      warnings.replaceChildren(...list.map(({ kind, text }) => make("li", { class: `gl-is-${kind}` }, make("strong", { text: { stop: "Stop: ", warning: "Caution: ", good: "Right: ", note: "Note: " }[kind] }), text)));
    }
    warnings.hidden = !list.length;
  }
  function load() {
    picture.load();
    near.hidden = !picture.hasFocus;
    bar.bar.hidden = !picture.handles.length;
    root.classList.toggle("gl-plain", !(model.get("readout") || []).length);
    root.classList.toggle("gl-wide", !!model.get("wide"));
    root.classList.toggle("gl-counting", !!model.get("counts"));
  }
  hear("picture wide counts", load);
  const refresh = () => { controls.refresh(); changed(); };
  const heard = new Set();        // the controls may change with the unit or the tooth system
  const hearControls = () => {
    for (const { name } of model.get("controls") || []) if (!heard.has(name)) { heard.add(name); hear(name, refresh); }
  };
  hear("text heading warnings", words);
  hear("readout", readout.build);
  hear("explanation", readout.explain);
  hear("controls", () => { hearControls(); controls.build(); });
  hear("angle playing", picture.fromPython);
  hear("driver_speed", () => { bar.speed(); picture.run(); });
  hearControls();
  controls.build();
  readout.build();
  words();
  bar.speed();
  load();
  bar.playing(picture.playing);
  picture.run();

  // the still picture in the output before this one is for readers without a kernel
  let hidden = null, tries = 0, looking = 0;
  const find = () => {
    const mine = root.closest(".jp-OutputArea-child");
    if (!mine) { if (root.isConnected ? tries++ < 40 : tries++ < 200) looking = win.setTimeout(find, 50); return; }
    const before = mine.previousElementSibling;
    if (before?.querySelector("img, svg")) { hidden = before; before.style.display = "none"; }
  };
  find();

  root.living = picture;       // for tests and measurements
  return () => {
    picture.stop();
    win.clearTimeout(speaking); win.clearTimeout(looking);
    if (hidden) hidden.style.display = "";
    undo.forEach(act => act());
    root.remove();
  };
}

export default { render };
