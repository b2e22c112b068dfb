// One picture on a sheet of its own: the one that is seen, or one that lies ready under it, painted already.

/** The parts of a picture that move, each with its numbers, and what stands only where there is room. */
function partsOf(svg) {
  const read = name => [...svg.querySelectorAll(`[data-${name}]`)].map(el => ({ el, at: el.dataset[name].split(" ").map(Number) }));
  const turns = read("turn");
  return { turns, slides: read("slide"), rounds: read("round"), fits: read("fits"), handles: turns.filter(({ el }) => el.dataset.name),
    limits: svg.dataset.limits?.split(" ").map(Number) };
}

/** Bring the parts that move to an angle of the driver. */
function turnParts({ turns, slides, rounds }, angle) {
  for (const { el, at: [cx, cy, speed, , , mx, my, orbit] } of turns) {
    const carried = orbit === undefined ? "" : `rotate(${-(angle * orbit % 360)} ${mx} ${-my}) `;
    el.setAttribute("transform", `${carried}rotate(${-(angle * speed % 360)} ${cx} ${-cy})`);
  }
  for (const { el, at } of rounds) {
    const path = el.firstChild, d = pieceOfRound(angle, at);
    if (path.getAttribute("d") !== d) path.setAttribute("d", d);
  }
  for (const { el, at } of slides) {
    const s = slideOffset(angle, at);
    if (s === null) { el.style.display = "none"; continue; }
    el.style.display = "";
    el.setAttribute("transform", `translate(${at[0] * s} ${-at[1] * s})`);
  }
}

/** Give a picture its scale and place; what stays the same is not touched. */
function fitSheet(svg, { fits }, { u, x, y, height, type }, width) {
  const set = (name, value) => { if (svg.getAttribute(name) !== String(value)) svg.setAttribute(name, value); };
  set("viewBox", `${x} ${y} ${width * u} ${height * u}`);
  set("width", width);
  set("height", height);
  for (const [name, value] of [["--u", u], ["--type", type]]) if (svg.style.getPropertyValue(name) !== String(value)) svg.style.setProperty(name, value);
  for (const { el, at: [room, wide] } of fits) {
    const sight = wide * type <= room / u ? "" : "hidden";
    if (el.style.visibility !== sight) el.style.visibility = sight;
  }
}

/** What a screen reader says of each gear. */
function speakParts({ handles }, angle) {
  for (const { el, at: [, , speed, pitch] } of handles) {
    const own = angle * speed;
    el.setAttribute("aria-valuenow", own.toFixed(2));
    el.setAttribute("aria-valuetext", `${say(own, 1)} degrees` + (pitch ? `, ${say(own / pitch, 2)} teeth` : ""));
  }
}
