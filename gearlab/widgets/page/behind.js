// A picture of gears seen from behind, as drawing/behind.py does it: turned over, the words not mirrored.

const BEHIND = "Seen from behind: ";
const OTHER_WAY = { "counter-clockwise": "clockwise", "clockwise": "counter-clockwise", "Counter-clockwise": "Clockwise", "Clockwise": "Counter-clockwise",
  "\u21ba": "\u21bb", "\u21bb": "\u21ba", left: "right", right: "left" };

/** Words of turning and of sides, as they are seen from behind. */
export function wordsFromBehind(text) {
  return text.replace(/[Cc]ounter-clockwise|[Cc]lockwise|[\u21ba\u21bb]/g, word => OTHER_WAY[word])
    .replace(/\b(the|its|lower|upper|from|to|and|on|mm|in) (left|right)\b(?! (?:angle|distance|hand|out|over|whole)\b)/g, (_, before, side) => `${before} ${OTHER_WAY[side]}`);
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
  const numbers = name => svg.dataset[name].split(" ").map(Number);
  const [x0, y0, x1, y1] = numbers("bounds"), [top, right, bottom, left] = numbers("margin");
  svg.dataset.bounds = [-x1, y0, -x0, y1].join(" ");
  svg.dataset.margin = [top, left, bottom, right].join(" ");
  if (svg.dataset.focus) { const [x, ...rest] = numbers("focus"); svg.dataset.focus = [-x, ...rest].join(" "); }
  svg.setAttribute("aria-label", BEHIND + wordsFromBehind(svg.getAttribute("aria-label") ?? ""));
}
