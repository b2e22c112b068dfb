// Pure functions of the living picture: outlines, places, numbers. They touch no page and are tested on their own.

/** Points of teeth from..to of a gear of count, as path data without its M: one tooth (flat x, y, y downwards) round the origin. */
export function repeatTooth(tooth, count, from = 0, to = count) {
  const parts = [];
  for (let k = from; k < to; k++) {
    const turn = -2 * Math.PI * k / count, cos = Math.cos(turn), sin = Math.sin(turn);
    for (let i = 0; i < tooth.length; i += 2) {
      const x = tooth[i], y = tooth[i + 1];
      parts.push(Math.round((cos * x - sin * y) * 1e5) / 1e5 + "," + Math.round((sin * x + cos * y) * 1e5) / 1e5);
    }
  }
  return parts.join(" ");
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

/** A piece of a turning body seen from the side, after it has gone round with the driver: path data, empty while it lies behind. */
export function pieceOfRound(angle, [x, y, ux, uy, speed, start, ...corners]) {
  let middle = (((start + speed * angle) % 360) + 360) % 360, path = "", low = 180, high = 0;
  if (middle > 270) middle -= 360;
  for (let i = 0; i < corners.length; i += 3) {
    const at = Math.min(Math.max(middle + corners[i + 2], 0), 180), along = corners[i], side = corners[i + 1] * Math.cos(at * Math.PI / 180);
    low = Math.min(low, at);
    high = Math.max(high, at);
    path += `${i ? " " : "M"}${(x + along * ux - side * uy).toFixed(3)},${(-(y + along * uy + side * ux)).toFixed(3)}`;
  }
  return high <= 0 || low >= 180 ? "" : path + "Z";
}

/** An angle carried back into the limits of a picture (a rack stops at both ends). */
export function withinLimits(angle, limits) {
  return limits ? Math.min(limits[1], Math.max(limits[0], angle)) : angle;
}

/** Direction [deg] of the taut string from a place (y downwards) to a circle about a point; of the ray to the point where its radius is 0. */
export function swingAngle({ x, y }, [ax, ay, circle, sense]) {
  const dx = x - ax, dy = -y - ay;
  return (Math.atan2(dy, dx) + sense * Math.acos(Math.min(1, circle / (Math.hypot(dx, dy) || 1)))) * 180 / Math.PI;
}

/** A number as people type it: point or comma, true minus; NaN when it is none. */
export function readNumber(text) {
  const plain = text.trim().replace(/\u2212/g, "-").replace(",", ".");
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : NaN;
}

/** The box of a picture: scale u (units per point) and height (points) for a width, within a greatest and a least height. */
export function fitBox(bounds, margin, width, type, tallest, lowest = 0) {
  const [x0, y0, x1, y1] = bounds, [top, right, bottom, left] = margin.map(m => m * type);
  let u = (x1 - x0) / Math.max(width - left - right, 60);
  u = Math.max(u, (y1 - y0) / Math.max(tallest - top - bottom, 60));
  const needed = (y1 - y0) / u + top + bottom, height = Math.max(needed, lowest);
  const middle = (x0 + x1) / 2 + (right - left) / 2 * u;
  return { u, height, x: middle - width * u / 2, y: -y1 - (top + (height - needed) / 2) * u };
}

/** How large type is beside its usual size: smaller in a narrow picture, larger on a projector. */
export function typeScale(width, big) {
  return Math.min(1, Math.max(0.74, width / 560)) * (big ? Math.min(1.6, Math.max(1.25, width / 400)) : 1);
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
  const undrawn = fresh.hasAttribute("data-tooth") && !fresh.hasAttribute("d");       // its outline is drawn where it will stand
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name) && !(undrawn && name === "d")) old.removeAttribute(name);
  for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  if (fresh.hasAttribute("data-whole")) {           // many plain paths: exchanged together, unless all are the same
    const now = old.childNodes, next = fresh.childNodes;
    if (next.length && (now.length !== next.length || [...now].some((path, i) => path.getAttribute("d") !== next[i].getAttribute("d")))) old.replaceChildren(...next);
    return;
  }
  const before = [...old.childNodes], after = [...fresh.childNodes];
  after.forEach((node, i) => before[i] ? morph(before[i], node) : old.append(node));
  before.slice(after.length).forEach(node => node.remove());
}
