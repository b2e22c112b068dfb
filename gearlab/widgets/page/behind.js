// A picture of gears seen from behind, as drawing/behind.py does it: turned over, the words not mirrored.

const BEHIND = "Seen from behind: ";
const OTHER_WAY = { "counter-clockwise": "clockwise", "clockwise": "counter-clockwise", "Counter-clockwise": "Clockwise", "Clockwise": "Counter-clockwise",
  "\u21ba": "\u21bb", "\u21bb": "\u21ba", left: "right", right: "left" };

/** Words of turning and of sides, as they are seen from behind. */
export function wordsFromBehind(text) {
  return text.replace(/[Cc]ounter-clockwise|[Cc]lockwise|[\u21ba\u21bb]/g, word => OTHER_WAY[word])
    .replace(/\b(the|its|lower|upper|from|to|and|on|mm|in) (left|right)\b(?! (?:angle|distance|hand|out|over|whole)\b)/g, (_, before, side) => `${before} ${OTHER_WAY[side]}`);
}

/** Gears that lie in planes: what was covered lies in front, and what is covered now is dashed above them; as drawing/behind.py has it. */
function byDepth(doc, over) {
  const groups = [...over.children].filter(group => group.dataset.plane !== undefined);
  for (const group of groups) group.dataset.plane = -Number(group.dataset.plane);
  const gears = groups.filter(group => !group.querySelector(".r-hidden-outline"));
  if (!gears.length) return;
  for (const group of groups) if (!gears.includes(group)) group.remove();
  const plane = group => Number(group.dataset.plane), all = [...over.childNodes], first = all.indexOf(gears[0]), last = all.indexOf(gears.at(-1));
  const next = all[last + 1] ?? null, between = all.slice(first, last + 1).filter(node => !gears.includes(node));
  gears.sort((a, b) => plane(a) - plane(b));
  const bodies = gears.map(group => {
    const path = group.querySelector(".r-driver[data-tooth],.r-driven[data-tooth],.r-gear[data-tooth]");
    if (!path) return null;
    const at = path.dataset.tooth.split(" ").map(Number), radii = [];
    for (let i = 0; i < at.length; i += 2) radii.push(Math.hypot(at[i], at[i + 1]));
    const [x, y, speed] = group.dataset.turn.split(" ").map(Number);
    return { group, path, x, y, speed, plane: plane(group), tip: Math.max(...radii), root: Math.min(...radii) };
  }).filter(Boolean);
  const covers = (near, far) => { const apart = Math.hypot(near.x - far.x, near.y - far.y); return near.plane > far.plane && apart < near.tip + far.tip && apart + near.tip > far.root; };
  const hidden = bodies.filter(far => bodies.some(near => covers(near, far))).map(({ group, path, x, y, speed }) => {
    const again = doc.createElementNS("http://www.w3.org/2000/svg", "g"), line = path.cloneNode();
    again.setAttribute("class", "gl-turns");
    Object.assign(again.dataset, { turn: `${x} ${y} ${speed} 0 0`, plane: group.dataset.plane });
    line.setAttribute("class", `r-hidden-outline ${path.getAttribute("class").split(" ").find(name => name.startsWith("of-")) ?? ""}`);
    again.append(line);
    return again;
  });
  for (const node of [...gears, ...between, ...hidden]) over.insertBefore(node, next);
}

/** Turn a picture over, before it is dressed: one group holds all of it, mirrored; each label stands on its other side. */
function turnOver(doc, svg) {
  const over = doc.createElementNS("http://www.w3.org/2000/svg", "g");
  over.setAttribute("class", "gl-behind");
  over.setAttribute("transform", "scale(-1 1)");
  over.append(...svg.childNodes);
  svg.append(over);
  for (const text of over.querySelectorAll("text")) {
    const end = text.getAttribute("text-anchor");
    text.setAttribute("x", -Number(text.getAttribute("x")));
    text.setAttribute("text-anchor", { start: "end", end: "start" }[end] ?? end);
    text.setAttribute("transform", "scale(-1 1)");
    text.textContent = wordsFromBehind(text.textContent);
  }
  for (const el of over.querySelectorAll("[data-handle]")) el.dataset.handle = wordsFromBehind(el.dataset.handle);
  byDepth(doc, over);
  const numbers = name => svg.dataset[name].split(" ").map(Number);
  const [x0, y0, x1, y1] = numbers("bounds"), [top, right, bottom, left] = numbers("margin");
  svg.dataset.bounds = [-x1, y0, -x0, y1].join(" ");
  svg.dataset.margin = [top, left, bottom, right].join(" ");
  if (svg.dataset.focus) { const [x, ...rest] = numbers("focus"); svg.dataset.focus = [-x, ...rest].join(" "); }
  svg.setAttribute("aria-label", BEHIND + wordsFromBehind(svg.getAttribute("aria-label") ?? ""));
}
