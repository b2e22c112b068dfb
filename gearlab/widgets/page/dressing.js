// A picture as Python sends it made into one that can be shown: edges, rings and roles, and each tooth repeated.

const SVG = "http://www.w3.org/2000/svg";
const PIECE = 6;               // teeth in one piece of an outline's line

/** The picture as an element of its own, with what the page adds; null if the text is none. */
function dressed(doc, text, specOf, value, behind) {
  const box = doc.createElement("div");
  box.innerHTML = text;
  const fresh = box.querySelector("svg");
  if (!fresh) return null;
  if (behind && fresh.querySelector("[data-tooth]")) turnOver(doc, fresh);
  const give = (el, attributes) => { for (const [name, value] of Object.entries(attributes)) el.setAttribute(name, value); };
  const ring = (group, cx, cy, r, halo = false) => {
    for (const name of halo ? ["gl-ring gl-halo", "gl-ring"] : ["gl-ring"]) {
      const circle = doc.createElementNS(SVG, "circle");
      give(circle, { class: name, cx, cy, r });
      group.append(circle);
    }
  };
  for (const path of fresh.querySelectorAll("[data-tooth]")) {
    const edge = doc.createElementNS(SVG, "g");
    give(edge, { "data-whole": "", class: "gl-edge " + path.getAttribute("class"), transform: path.getAttribute("transform") });
    path.after(edge);
  }
  for (const group of fresh.querySelectorAll("[data-name]")) {
    const [cx, cy, , , radius] = group.dataset.turn.split(" ").map(Number);
    ring(group, cx, -cy, ringOf(group, radius), true);
    give(group, { role: "slider", tabindex: 0, "aria-label": group.dataset.name, "aria-orientation": "horizontal",
      "aria-valuemin": -36000, "aria-valuemax": 36000, "data-lm-suppress-shortcuts": true });
  }
  for (const group of fresh.querySelectorAll("[data-control]")) {
    const [radius, x, y] = group.dataset.ring.split(" ").map(Number);
    ring(group, x, -y, radius);
    const spec = specOf(group.dataset.control), now = value(group.dataset.control), unit = spec?.spoken || spec?.unit || "";
    give(group, { role: "slider", tabindex: 0, "aria-label": group.dataset.handle, "aria-valuenow": now, "aria-valuetext": `${say(now, spec?.places ?? 2)} ${unit}`,
      "aria-valuemin": spec?.low, "aria-valuemax": spec?.high, "data-lm-suppress-shortcuts": true });
  }
  for (const group of fresh.querySelectorAll("[data-press]")) {
    const [radius, x, y] = group.dataset.ring.split(" ").map(Number);
    ring(group, x, -y, radius);
    give(group, { role: "button", tabindex: 0, "aria-label": group.dataset.handle, "data-lm-suppress-shortcuts": true });
  }
  return fresh;
}

/** Radius of a gear's focus ring: well inside its teeth, so that it does not cover the mesh; outside those of a ring gear. */
function ringOf(group, radius) {
  const tips = [...group.querySelectorAll("[data-tooth]")].map(path => {
    const at = path.dataset.tooth.split(" ").map(Number);
    let most = 0;
    for (let i = 0; i < at.length; i += 2) most = Math.max(most, Math.hypot(at[i], at[i + 1]));
    return most;
  });
  const least = Math.min(...tips);
  return least < 0.98 * radius && tips.length === 1 || !tips.length ? radius : 0.6 * least;
}

/** The gears of a picture: path and edge. */
const toothed = svg => [...svg.querySelectorAll("[data-tooth]")].map(el => ({ el, edge: el.nextElementSibling }));

/** Outlines that were worked out, the oldest out first: a gear that another step leaves as it was is not worked out again. */
const outlineStore = heldStates(2e5);

/** The outline of a gear within a distance of the exact one: whole, and its line in pieces of a few teeth. */
function outlineOf(tooth, count, near) {
  const key = `${count} ${near} ${tooth}`;
  let known = outlineStore.get(key);
  if (!known) {
    const fine = simplify(tooth.split(" ").map(Number), near), pieces = [];
    for (let k = 0; k < count; k += PIECE) pieces.push("M" + repeatTooth(fine, count, k, Math.min(count, k + PIECE)));
    const whole = pieces.join(" ").replaceAll(" M", " ") + "Z";
    known = { whole, pieces, size: 2 * whole.length + key.length };
    outlineStore.put(key, known);
  }
  return known;
}

/** Draw the outlines of gears within a distance of the exact ones; returns how many characters they have. */
function outline(doc, teeth, near) {
  let size = 0;
  const draw = (path, d) => { if (path.getAttribute("d") !== d) path.setAttribute("d", d); };
  for (const { el, edge } of teeth) {
    const { whole, pieces } = outlineOf(el.dataset.tooth, Number(el.dataset.count), near);
    size += 2 * whole.length;
    draw(el, whole);
    // a browser draws in tiles, and skips the pieces that miss a tile
    while (edge.childNodes.length > pieces.length) edge.lastChild.remove();
    while (edge.childNodes.length < pieces.length) edge.append(doc.createElementNS(SVG, "path"));
    pieces.forEach((piece, i) => draw(edge.childNodes[i], piece));
  }
  return size;
}
