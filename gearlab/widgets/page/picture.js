// The living picture: gears that turn, are dragged, are turned by keys, come to rest and tell it.

const REST = 350;              // ms without a key after which an angle counts as settled

function livingPicture({ model, steps, root, stage, announce, on, rest, control, changed }) {
  const doc = root.ownerDocument, win = doc.defaultView;
  const calm = win.matchMedia("(prefers-reduced-motion: reduce)");
  let svg = null, sheet = null, parts = { turns: [], handles: [] }, way = 1, teeth = null, fineness = 0;
  let angle = model.get("angle") || 0, playing = !!model.get("playing"), inSight = true, held = null;
  let width = 0, frame = 0, last = 0, closeUp = 0, closing = 0, lastText = 0, frames = 0;
  let tallest = 620, lowest = 0;        // its height, as the room allows
  const listeners = [];       // called with the angle after it was drawn
  const laid = new Set();     // pictures that lie under the one that is seen

  function load(prepared) {
    // the outlines of one that takes the place of another are drawn there, and only those that are not the same
    const ready = prepared ?? dress(steps.get("picture"), name => model.get(name), !svg);
    if (!ready) return;
    if (ready.sheet && !focused()) { uncover(ready); return; }
    lift();
    const fresh = ready.svg;
    for (const name of ["style", "viewBox", "width", "height"]) if (svg?.hasAttribute(name)) fresh.setAttribute(name, svg.getAttribute(name));
    if (svg) morph(svg, fresh);
    else {
      svg = fresh;
      sheet = doc.createElement("div");
      sheet.className = "gl-sheet";
      sheet.append(svg);
      stage.prepend(sheet);
    }
    parts = partsOf(svg);
    angle = withinLimits(angle, parts.limits);
    teeth = null;
    fineness = ready.fineness;
    resize();
    draw();
    spoken();
  }

  // A picture that is likely to be next can lie painted under the one that is seen: to show it, the browser has only to
  // take away what covers it. Only where nothing turns, because each frame would have to go round it.
  const focused = () => !!sheet?.contains(doc.activeElement);
  const stamp = () => [angle, width, closeUp, root.classList.contains("gl-big"), tallest, lowest].join(" ");

  /** Lay a picture that was made ready under the one that is seen. */
  function lay(ready) {
    if (ready.sheet || !svg || !width || moving() || held || closing || doc.hidden || !inSight || focused()) return false;
    const its = partsOf(ready.svg);
    if (withinLimits(angle, its.limits) !== angle) return false;
    const box = scaled(ready.svg), near = fineFor(box.u);
    if (!fineEnough(ready.fineness, near)) {
      ready.size = ready.length + outline(doc, toothed(ready.svg), near);
      ready.fineness = near;
    }
    fitSheet(ready.svg, its, box, width);
    turnParts(its, angle);
    speakParts(its, angle);
    const under = doc.createElement("div");
    under.className = "gl-sheet gl-under";
    under.inert = true;
    under.setAttribute("aria-hidden", "true");
    under.append(ready.svg);
    Object.assign(ready, { sheet: under, parts: its, stamp: stamp() });
    laid.add(ready);
    stage.append(under);
    return true;
  }

  /** Take away the pictures that lie ready. */
  function lift(but) {
    for (const ready of laid) if (!but?.includes(ready)) {
      ready.sheet.remove();
      ready.sheet = null;
      laid.delete(ready);
    }
  }

  /** Show a picture that lies ready: what covers it goes. */
  function uncover(ready) {
    const before = sheet, left = { svg, fineness, length: ready.length, size: ready.size };
    laid.delete(ready);
    ({ svg, sheet, parts, fineness } = ready);
    teeth = null;
    Object.assign(ready, { sheet: null, left });
    sheet.className = "gl-sheet";
    sheet.inert = false;
    sheet.removeAttribute("aria-hidden");
    high(svg.getAttribute("height"));
    before.remove();
    // the one that is seen stands before those that lie under it
    for (const other of [...laid]) if (other.sheet.compareDocumentPosition(sheet) & 4) { other.sheet.remove(); other.sheet = null; laid.delete(other); }
    if (ready.stamp !== stamp()) { lift(); resize(); draw(); spoken(); }
    else for (const listener of listeners) listener(angle);
  }

  /** A picture made ready to be shown: dressed, its outlines as fine as they will be needed. */
  function dress(text, value, outlined = true) {
    const fresh = dressed(doc, text, name => control(name)?.spec, value, model.get("behind"));
    if (!fresh) return null;
    const { length } = text;
    let size = length, near = 0;
    if (width && outlined) {
      const { u } = scaled(fresh);
      near = fineFor(u);
      size += outline(doc, toothed(fresh), near);
    }
    return { svg: fresh, fineness: near, length, size };
  }

  // Outlines as fine as the eye can use at this size (a twelfth of a pixel): a stroke costs by its points,
  // and sixty frames a second are worth more than corners that nobody can see.
  // In steps, so that a little less room leaves them as they are.
  const fineFor = u => 1.25 ** Math.floor(Math.log(u / (12 * (win.devicePixelRatio || 1))) / Math.log(1.25));
  const fineEnough = (fineness, near) => fineness && near > fineness * 0.6 && near < fineness * 3;
  function outlines(u) {
    const near = fineFor(u);
    if (fineEnough(fineness, near)) return;
    fineness = near;
    teeth ??= toothed(svg);
    outline(doc, teeth, near);
  }

  /** Scale and place of a picture at this width of the page, at a close-up or not. */
  function scaled(svg) {
    const big = root.classList.contains("gl-big");
    const type = typeScale(width, big);
    const numbers = name => svg.dataset[name].split(" ").map(Number);
    const box = fitBox(numbers("bounds"), numbers("margin"), width, type, tallest, lowest);
    let { u, x, y } = box;
    if (closeUp > 0 && svg.dataset.focus) {
      const [fx, fy, across, tall = 0] = numbers("focus");
      const near = Math.max(across / width, tall / box.height), t = closeUp * closeUp * (3 - 2 * closeUp);
      const zoomed = Math.exp(Math.log(u) + (Math.log(near) - Math.log(u)) * t);
      const share = (u - zoomed) / (u - near || 1);
      x += (fx - width * near / 2 - x) * share;
      y += (-fy - box.height * near / 2 - y) * share;
      u = zoomed;
    }
    return { u, x, y, height: box.height, type };
  }

  function resize() {
    width ||= stage.clientWidth;        // asked once: a question for a size makes the browser lay out the page at once
    if (!svg || !width) return;
    if (laid.size) lift();
    const box = scaled(svg);
    outlines(box.u);
    fitSheet(svg, parts, box, width);
    high(box.height);
  }
  const high = height => { if (stage.style.height !== `${height}px`) stage.style.height = `${height}px`; };

  function draw() {
    if (laid.size) lift();
    turnParts(parts, angle);
    for (const listener of listeners) listener(angle);
  }

  function step(now) {
    frame = 0;
    if (!moving()) return;
    // a page that was stopped for a while goes on from where it was
    angle += way * model.get("driver_speed") * 6e-3 * Math.min(now - last, 100);
    if (angle !== withinLimits(angle, parts.limits)) { angle = withinLimits(angle, parts.limits); way = -way; }     // to and fro
    last = now;
    frames += 1;
    draw();
    frame = win.requestAnimationFrame(step);
  }

  const moving = () => playing && inSight && !doc.hidden && !held && !calm.matches && model.get("driver_speed") !== 0;

  function run() {
    if (moving()) { if (!frame) { lift(); last = win.performance.now(); frame = win.requestAnimationFrame(step); } }
    else if (frame) { win.cancelAnimationFrame(frame); frame = 0; }
  }

  const spoken = () => speakParts(parts, angle);       // only when it has come to rest

  let resting = 0;
  function settle(now = false) {
    win.clearTimeout(resting);
    const done = () => {
      spoken();
      steps.rested();
      if (parts.handles.length) announce(parts.handles.map(({ el, at }) => `${el.dataset.name.split(",")[0]} at ${say(angle * at[2], 1)} degrees`).join("; "));
      const tidy = Math.round(angle * 1e6) / 1e6;
      if (model.get("angle") !== tidy) { model.set("angle", tidy); model.save_changes(); }
    };
    if (now) done(); else resting = win.setTimeout(done, REST);
  }

  function turnBy(degrees, speed = 1) {
    angle = withinLimits(angle + degrees / speed, parts.limits);
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

  // a round place that is a button: each press gives its control the next value
  const press = group => {
    const { press: name, values } = group.dataset, order = values.split(" ").map(Number);
    const at = order.indexOf(model.get(name)), after = by => order[(at + by) % order.length];
    steps.change(name, after(1), after(2));
    changed();
  };
  on(stage, "click", event => {
    const group = event.target.closest?.("[data-press]");
    if (group) { group.focus({ preventScroll: true }); press(group); }
  });

  // keys on a gear: it turns itself by one degree, and the other with it
  on(stage, "keydown", event => {
    const pressed = event.target.closest?.("[data-press]");
    if (pressed && (event.key === " " || event.key === "Enter") && !(event.ctrlKey || event.metaKey || event.altKey || event.shiftKey)) {
      event.preventDefault();
      if (!event.repeat) press(pressed);
      return;
    }
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
  const point = event => new win.DOMPoint(event.clientX, event.clientY).matrixTransform((svg.querySelector(":scope>.gl-behind") ?? svg).getScreenCTM().inverse());
  const place = event => {
    const at = point(event), [cx, cy] = held.at;
    return Math.atan2(-at.y - cy, at.x - cx) * 180 / Math.PI;
  };
  on(stage, "pointerdown", event => {
    const carried = event.target.closest?.("[data-control]"), group = event.target.closest?.("[data-turn]");
    if (event.button) return;
    if (carried) {
      const at = point(event);
      held = { id: event.pointerId, row: control(carried.dataset.control), from: at, value: model.get(carried.dataset.control), along: carried.dataset.carry?.split(" ").map(Number), swing: carried.dataset.swing?.split(" ").map(Number) };
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
      const moved = held.swing ? held.swing[3] * (((swingAngle(at, held.swing) - swingAngle(held.from, held.swing) + 540) % 360) - 180)
        : ((at.x - held.from.x) * held.along[0] - (at.y - held.from.y) * held.along[1]) / held.along[2];
      held.row.give(Math.round((held.value + moved) / spec.step) * spec.step);
      return;
    }
    const now = place(event), moved = ((now - held.was + 540) % 360) - 180;
    held.was = now;
    angle = withinLimits(angle + moved / held.at[2], parts.limits);
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
  const sizes = new win.ResizeObserver(entries => {
    const now = entries.at(-1).contentRect.width;
    if (now !== width) { width = now; resize(); }
  });
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
      closing = t < 1 ? win.requestAnimationFrame(go) : 0;
    };
    go(begun + (calm.matches ? 350 : 0));
  }

  /** How high the lowest teeth are [unit of the scene]; infinite where there are none. */
  const toothHeight = () => Math.min(Infinity, ...(svg ? toothed(svg) : []).map(({ el }) => {
    const tooth = el.dataset.tooth.split(" ").map(Number);
    let low = Infinity, high = 0;
    for (let i = 0; i < tooth.length; i += 2) { const r = Math.hypot(tooth[i], tooth[i + 1]); low = Math.min(low, r); high = Math.max(high, r); }
    return high - low;
  }));

  return {
    /** The room there is: width, and greatest and least height [px]. */
    fit(wide, most, least) {
      if (wide === width && most === tallest && least === lowest) return;
      [width, tallest, lowest] = [wide, most, least];
      fineness = 0;
      resize();
    },
    /** How small it would be in a room: units of the scene per pixel; and how high it would stand. */
    sizeIn(wide, high) {
      if (!svg) return { u: 1, height: high };
      const numbers = name => svg.dataset[name].split(" ").map(Number);
      return fitBox(numbers("bounds"), numbers("margin"), wide, typeScale(wide, root.classList.contains("gl-big")), high);
    },
    get toothHeight() { return toothHeight(); },
    /** Begin near enough for teeth of such a height [px], where the whole has them too low and there is a close-up; returns whether. */
    begin(least, good) {
      if (!svg?.dataset.focus || !width || closing) return closeUp > 0;
      const was = closeUp, at = t => { closeUp = t; return scaled(svg).u; };
      const whole = at(0), near = at(1), wanted = toothHeight() / good;
      closeUp = 0;
      if (toothHeight() / whole < least && near < whole) {
        const stated = svg.dataset.focus.split(" ").length > 3;        // a close-up to begin with
        const share = stated ? 1 : Math.min(1, Math.log(wanted / whole) / Math.log(near / whole));
        closeUp = 0.5 - Math.sin(Math.asin(1 - 2 * share) / 3);
      }
      if (closeUp !== was) resize();
      return closeUp > 0;
    },
    load, dress, lay, lift, run, play, turnBy, home, pause, zoom, resize, calm,
    get angle() { return angle; }, get playing() { return playing; }, get frames() { return frames; },
    get handles() { return parts.handles.map(({ el, at }) => ({ name: el.dataset.name, speed: at[2], pitch: at[3] })); },
    get hasFocus() { return !!svg?.dataset.focus; },
    get ofGears() { return !!svg?.querySelector("[data-tooth]"); },        // has a view from behind
    listen: listener => listeners.push(listener),
    fromPython() {
      const asked = model.get("angle");
      if (Math.abs(asked - angle) > 1e-6 && !held && !frame) { angle = withinLimits(asked, parts.limits); draw(); spoken(); }
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
