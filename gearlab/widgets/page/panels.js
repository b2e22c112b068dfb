// What stands around the picture: play bar, controls, and the readout whose numbers say why.

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

/** Formulas within a panel that scrolls, and is a Tab stop, are none of their own. */
function inOneStop(panel) {
  for (const formula of panel.querySelectorAll(".eq[tabindex]")) for (const name of ["tabindex", "role", "aria-label"]) formula.removeAttribute(name);
}

/** One Tab stop for several: arrow keys, Home and End move inside; returns what to call when they have changed. */
function oneStop(panel, which) {
  const open = () => [...panel.querySelectorAll(which)].filter(node => !node.closest("[hidden]") && !(node.matches("summary") ? node.parentNode.parentNode : node).closest("details:not([open])"));
  let left = null;        // where the hand was last
  const stay = () => {
    const all = open(), at = all.includes(left) ? left : all.find(node => node.matches("[data-stop]")) ?? all[0];
    for (const node of panel.querySelectorAll(which)) node.tabIndex = node === at ? 0 : -1;
  };
  panel.addEventListener("focusin", event => { const node = event.target.closest(which); if (node) { left = node; stay(); } });
  panel.addEventListener("keydown", event => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.shiftKey || !event.target.closest(which)) return;
    const all = open(), i = all.indexOf(event.target.closest(which));
    const to = { ArrowRight: i + 1, ArrowDown: i + 1, ArrowLeft: i - 1, ArrowUp: i - 1, Home: 0, End: all.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    all[Math.min(all.length - 1, Math.max(0, to))].focus();
  });
  return stay;
}

/** What is not needed at once, behind a disclosure; the model remembers what the reader has opened. */
function disclosure({ model, make }, name, summary, ...inside) {
  const open = () => (model.get("disclosed") || "").split(" ").filter(Boolean);
  const head = make("summary", { class: "gl-disclose", text: summary, "data-lm-suppress-shortcuts": "true" });
  const box = make("details", { class: `gl-more gl-more-${name}`, open: open().includes(name) }, head, ...inside);
  let meant = box.open;
  box.addEventListener("toggle", () => {
    if (box.open === meant) return;
    meant = box.open;
    model.set("disclosed", [...open().filter(other => other !== name), ...(meant ? [name] : [])].join(" "));
    model.save_changes();
  });
  return { box, head, get remembered() { return open().includes(name); }, set(yes) { meant = box.open = yes; } };
}

/** The name of a number: as it is seen, and an arrow in words. */
function heardAs({ text, spoken }) {
  if (spoken.includes(text)) return spoken;
  let same = 0;
  while (text[same] === spoken[same]) same += 1;
  const rest = spoken.slice(same).trim();
  return rest === "degrees" ? text : `${text} ${rest}`;
}

/** A name that holds what is seen. */
const begunWith = (text, name) => (name ?? text).toLowerCase().includes(text.toLowerCase()) ? name ?? text : `${text}: ${name}`;

const countWords = text => text.split(/\s+/).filter(Boolean).length;

/** As many of these as have so many words together, the first at any length; what was left out is counted. */
function cutShort(phrases, most) {
  let words = 0;
  const kept = phrases.filter((phrase, i) => (words += countWords(phrase)) <= most || !i);
  return [...kept, ...(kept.length < phrases.length ? [`and ${phrases.length - kept.length} more`] : [])];
}

function playBar({ model, make, write, picture, on }) {
  // each is called what is seen on it, and then what it does
  const button = (text, name, act) => make("button", { type: "button", class: "gl-button", text, "aria-label": `${text}: ${name}`, title: name, onclick: act });
  const gear = () => picture.handles[0];
  const turn = sign => () => { picture.pause(); picture.turnBy(sign, 1); };
  const tooth = sign => () => { picture.pause(); picture.turnBy(sign * (gear()?.pitch || 10), gear()?.speed || 1); };
  const start = make("button", { type: "button", class: "gl-button gl-play", "data-stop": "", onclick: () => picture.play(!picture.playing) });
  const read = make("span", { class: "gl-angles", "aria-hidden": "true" });
  const speed = make("input", { type: "range", min: -30, max: 30, step: 1, class: "gl-speed", "aria-label": "Driver speed" });
  const shown = make("span", { class: "gl-speed-value", "aria-hidden": "true" });
  const seen = text => model.get("behind") && picture.ofGears ? wordsFromBehind(text) : text;
  const way = rpm => seen(rpm > 0 ? "counter-clockwise" : rpm < 0 ? "clockwise" : "at rest");
  const tell = () => {
    const rpm = Number(speed.value);
    write(shown, `${say(Math.abs(rpm), 0)} rpm ${seen(rpm > 0 ? "\u21ba" : rpm < 0 ? "\u21bb" : "")}`);
    speed.setAttribute("aria-valuetext", `${Math.abs(rpm)} rpm ${way(rpm)}`);
  };
  speed.addEventListener("input", () => { tell(); model.set("driver_speed", Number(speed.value)); model.save_changes(); picture.run(); });
  const steps = make("div", { class: "gl-turning", role: "toolbar", "aria-label": "Turning" },
    button("\u2212\u2009tooth", "back one tooth", tooth(-1)), button("\u2212\u20091\u00b0", "back one degree", turn(-1)), start,
    button("+\u20091\u00b0", "on one degree", turn(1)), button("+\u2009tooth", "on one tooth", tooth(1)), button("0\u00b0", "back to the start", () => { picture.pause(); picture.home(); }));
  oneStop(steps, "button")();
  const bar = make("div", { class: "gl-bar" }, steps, make("label", { class: "gl-speed-label" }, make("span", { text: "Speed" }), speed, shown), read);
  let told = 0;
  const angles = angle => {
    const now = performance.now();
    if (picture.playing && now - told < 100) return;      // ten times a second is enough for reading
    told = now;
    const turnsToo = model.get("counts");
    write(read, picture.handles.map(({ name, speed: s }) => {
      const letter = /^([A-Z]), |\b([AB])\b|^Gears? (\d[\d and]*)|^(Sun|Ring|Carrier)\b/.exec(name)?.slice(1).find(Boolean) ?? "";
      return `${letter} ${turnsToo ? say(angle * s / 360, 2) + " turns" : say(angle * s, 1) + "\u00b0"}`.trim();
    }).join("   "));
  };
  picture.listen(angles);
  return {
    bar,
    playing(yes) {
      const text = picture.calm.matches ? "Step 1\u00b0" : yes ? "Pause" : "Play";
      write(start, text);
      start.setAttribute("aria-label", picture.calm.matches ? text : yes ? "Pause turning" : "Play turning");
      told = 0;
      angles(picture.angle);
    },
    speed() { speed.value = model.get("driver_speed"); tell(); },
  };
}

function controlRow({ model, steps, make, write, spec, changed }) {
  const id = `gl-${++serial}`;
  const send = value => { if (model.get(spec.name) !== value) { steps.change(spec.name, value); changed(); } };
  if (spec.kind === "choice") {
    const select = make("select", { id, class: "gl-select" });
    const fill = () => {
      select.replaceChildren(...spec.options.map(([value, text]) => make("option", { value: String(value), text })));
      select.value = String(model.get(spec.name));
    };
    select.addEventListener("change", () => send(spec.options.find(([value]) => String(value) === select.value)[0]));
    fill();
    const refresh = () => { if (select.value !== String(model.get(spec.name))) select.value = String(model.get(spec.name)); };
    return { row: make("div", { class: "gl-control" }, make("label", { for: id, text: spec.label }), select), refresh };
  }
  if (spec.kind === "switch") {
    const box = make("input", { id, type: "checkbox" });
    box.addEventListener("change", () => send(box.checked));
    const refresh = () => { box.checked = !!model.get(spec.name); };
    refresh();
    return { row: make("div", { class: "gl-control gl-switch" }, box, make("label", { for: id, text: spec.label })), refresh };
  }
  if (spec.kind === "buttons") {
    // each gives the trait another value; one without is not to be pressed, but keeps the focus
    const buttons = spec.buttons.map(({ text, title }, i) => make("button", { type: "button", class: "gl-button", text, title, "aria-label": begunWith(text, title),
      onclick: () => { const { value } = now[i]; if (value !== null) send(value); } }));
    let now = spec.buttons;
    const refresh = (fresh = spec) => {
      now = fresh.buttons;
      buttons.forEach((button, i) => {
        write(button, now[i].text);
        button.title = now[i].title;
        button.setAttribute("aria-label", begunWith(now[i].text, now[i].title));
        button.setAttribute("aria-disabled", String(now[i].value === null));
      });
    };
    refresh();
    return { row: make("div", { class: "gl-control gl-buttons", role: "group", "aria-label": spec.label }, ...buttons), refresh };
  }
  // a number: slider, field and two step buttons
  const places = spec.places ?? 0, unit = spec.unit ? ` ${spec.unit}` : "";
  const tidy = value => Number(value.toFixed(places + (spec.fine ? 1 : 0)));
  const slider = make("input", { type: "range", class: `gl-slider of-${spec.of || "none"}`, min: spec.low, max: spec.high, step: "any", "aria-label": spec.label, "aria-description": "Type a number to set it" });
  const field = make("input", { id, type: "text", inputmode: "decimal", class: "gl-field", autocomplete: "off", tabindex: -1, "aria-describedby": `${id}-note` });
  const least = spec.least ?? spec.low, most = spec.most ?? spec.high;        // what is typed may go beyond the slider
  const longest = Math.max(...[spec.low, spec.high, model.get(spec.name)].map(end => say(end, places + (spec.fine ? 1 : 0)).length));
  if (longest > 6) field.style.width = `${0.6 * longest + 1.1}em`;
  const note = make("span", { id: `${id}-note`, class: "gl-note", role: "alert" });
  let shown = null, written = "";
  const show = value => {
    if (value === shown && !note.textContent) return;
    shown = value;
    slider.value = value;
    slider.setAttribute("aria-valuetext", `${say(value, Number.isInteger(value) ? 0 : places)}${spec.spoken ? " " + spec.spoken : unit}`);
    field.value = say(value, Math.abs(value - Number(value.toFixed(places))) > 1e-9 ? places + 1 : places);
    written = field.value;
    field.removeAttribute("aria-invalid");
    write(note, "");
  };
  const give = value => { show(value); send(value); };
  const step = value => { send(value); if (!steps.late) show(value); };        // else together with the picture
  const by = amount => step(tidy(Math.min(spec.high, Math.max(spec.low, model.get(spec.name) + amount))));
  slider.addEventListener("input", () => give(tidy(Math.round(slider.value / spec.step) * spec.step)));
  slider.addEventListener("change", () => { slider.value = model.get(spec.name); });        // the thumb rests on a step
  slider.addEventListener("keydown", event => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const small = spec.fine && event.shiftKey ? spec.step / 10 : spec.step;
    const act = {
      ArrowRight: () => by(small), ArrowUp: () => by(small), ArrowLeft: () => by(-small), ArrowDown: () => by(-small),
      PageUp: () => by(spec.page), PageDown: () => by(-spec.page), Home: () => step(spec.home ?? spec.low), End: () => step(spec.high),
    }[event.key];
    if (act) { event.preventDefault(); act(); }
    else if (/^[-+\d.,\u2212]$/.test(event.key)) { event.preventDefault(); field.focus(); field.value = event.key; }
  });
  // Enter sets the number and leads back to the slider, Escape leads back without
  field.addEventListener("keydown", event => {
    if (event.key === "Escape") { shown = null; show(model.get(spec.name)); } else if (event.key !== "Enter" || event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return;
    event.preventDefault();
    if (event.key === "Enter") settle();
    if (!field.hasAttribute("aria-invalid")) slider.focus();
  });
  const settle = () => {
    if (shown !== null && field.value === written) return;        // Enter has settled it already
    const value = readNumber(field.value);
    const wrong = Number.isNaN(value) ? "is not a number" : !spec.fine && places === 0 && !Number.isInteger(value) ? "is not whole"
      : value < least ? "is too small" : value > most ? "is too large" : "";
    if (!wrong) { give(value); return; }
    shown = null;
    field.setAttribute("aria-invalid", "true");
    write(note, `${field.value.trim() || "nothing"} ${wrong}: from ${say(least, places)} to ${say(most, places)}${unit}`);
  };
  field.addEventListener("change", settle);
  const stepButton = (text, sign, word) => make("button", { type: "button", class: "gl-button gl-step", tabindex: -1, text, "aria-label": `${spec.label}: ${word}`, onclick: () => by(sign * spec.step) });
  show(model.get(spec.name));
  return {
    name: spec.name, spec, by, give: value => give(tidy(Math.min(spec.high, Math.max(spec.low, value)))),
    row: make("div", { class: "gl-control", role: "group", "aria-label": spec.label },
      make("label", { for: id }, spec.of ? make("span", { class: `gl-letter of-${spec.of}`, "aria-hidden": "true", text: spec.of === "driver" ? "A" : "B" }) : null, spec.label),
      make("div", { class: "gl-number" }, stepButton("\u2212", -1, "less"), slider, stepButton("+", 1, "more"), field, spec.unit ? make("span", { class: "gl-unit", text: spec.unit }) : null), note),
    refresh() { if (field !== field.ownerDocument.activeElement || Number(readNumber(field.value)) !== model.get(spec.name)) show(model.get(spec.name)); },
  };
}

/** The controls, those that are used less behind "More controls". */
function controlPanel({ fit, ...kit }) {
  const { steps, make } = kit;
  const first = make("div", { class: "gl-rows" }), rest = make("div", { class: "gl-rows" });
  const more = disclosure(kit, "controls", "More controls", rest);
  const panel = make("div", { class: "gl-controls" }, first, more.box);
  const places = "input,select,button";
  let rows = [], shape = "", at = "";
  // the next values of the control where the hand is may be worked out before it is touched
  const near = name => { if (name !== at) steps.near(name); at = name; };
  const keepingFocus = act => {
    const focused = panel.ownerDocument.activeElement;
    act();
    if (panel.contains(focused)) focused.focus({ preventScroll: true });
  };
  /** Show the first controls only, so many; those that the explorer itself put behind "More controls" stay there. */
  function fold(count) {
    const wanted = rows.map(({ spec }, i) => i < count && !spec.more);
    if (rows.every(({ row }, i) => (row.parentNode === first) === wanted[i])) return;
    keepingFocus(() => {
      first.replaceChildren(...rows.filter((_, i) => wanted[i]).map(({ row }) => row));
      rest.replaceChildren(...rows.filter((_, i) => !wanted[i]).map(({ row }) => row));
      more.box.hidden = wanted.every(Boolean);
    });
  }
  return {
    panel, fold, opened: more.box,
    /** So many controls stand in a height [px], as they are laid out now, with so many Tab stops, but two at least; where a stage is set, those of the stage. */
    within(height, most = Infinity) {
      fold(Infinity);
      if (rows.some(({ spec }) => spec.more)) return;
      const top = panel.getBoundingClientRect().top, below = [...first.children].map(row => row.getBoundingClientRect().bottom - top);
      let stops = 0;
      const few = [...first.children].filter(row => (stops += [...row.querySelectorAll(places)].filter(node => node.tabIndex >= 0).length) <= most).length;
      if (below.length <= few && !below.some(bottom => bottom > height)) return;
      const button = more.box.hidden ? 2.3 * parseFloat(panel.ownerDocument.defaultView.getComputedStyle(panel).fontSize) : 0;
      fold(Math.max(2, Math.min(few, below.filter(bottom => bottom <= height - button).length)));
    },
    build() {
      const specs = steps.get("controls") || [], now = JSON.stringify(specs);
      if (now === shape) { rows.forEach(row => row.refresh()); return; }
      // a changed list of options may stand where the focus is: keep the place
      const focused = [...panel.querySelectorAll(places)].indexOf(panel.ownerDocument.activeElement), shown = first.children.length;
      const names = rows.map(({ spec }) => spec.name).join();
      shape = now;
      rows = specs.map(spec => ({ ...controlRow({ ...kit, spec }), spec }));
      rows.forEach(({ row }, i) => row.addEventListener("focusin", () => near(specs[i].name)));
      const same = names === rows.map(({ spec }) => spec.name).join();
      fold(same ? shown : Infinity);
      panel.hidden = !rows.length;
      if (focused >= 0) panel.querySelectorAll(places)[focused]?.focus();
      if (!same) fit();
    },
    refresh() { rows.forEach(row => row.refresh()); },
    row: name => rows.find(row => row.name === name),
  };
}

/** The numbers: those that the task needs, and all others behind "All numbers"; one Tab stop, arrow keys inside. */
function readoutPanel(kit) {
  const { model, steps, make, write, changed, caption } = kit;
  const keys = make("div", { class: "gl-keys" }), reasons = make("div", { class: "gl-reasons" }), rest = make("div", { class: "gl-all" });
  const all = disclosure(kit, "readout", "All numbers", rest);
  const panel = make("div", { class: "gl-readout", role: "group", "aria-label": "Numbers" }, keys, all.box);
  const stay = oneStop(panel, ".gl-value,.gl-secret,.gl-disclose");
  let cells = new Map(), shape = "", open = "", usual = null, few = false;
  all.box.addEventListener("toggle", stay);
  const show = word => {
    open = open === word ? "" : word;
    model.set("asked", open);
    model.save_changes();
    explain();
  };
  // the number of a row that the explorer keeps back is asked for: an input of the state, as a control is
  const ask = row => {
    const before = (model.get("asked_for") || "").split("; ").filter(Boolean);
    steps.change("asked_for", [...new Set([...before, ...row.cells.filter(cell => cell.secret).map(cell => cell.word)])].join("; "));
    changed();
  };
  const value = (row, cell, spoken, why, id) => {
    const told = cell.explained !== false;
    const button = cell.secret ? make("button", { type: "button", class: "gl-button gl-secret", text: row.cells.length > 1 ? "Show" : "Show the number", "aria-label": `Show the number: ${row.label}`, onclick: () => ask(row) })
      : told ? make("button", { type: "button", class: "gl-value", "aria-expanded": "false", "aria-controls": id, onclick: () => show(cell.word) })
      : make("span", { class: "gl-given" });
    cells.set(cell.word, { told, secret: cell.secret, button, why, spoken });
    return button;
  };
  const reason = (row, id) => make("div", { hidden: true, class: "gl-why", id, role: "group", tabindex: 0, "aria-label": `Why: ${row.label}`, "data-lm-suppress-shortcuts": "true" });
  const named = (row, column) => row.label + (column ? `, ${column}` : "");
  const side = (group, i) => group.columns.length === 2 && group.sides !== false ? `of-${["driver", "driven"][i]}` : null;
  /** A number that is seen at once: what it is, and its value. */
  const key = group => row => {
    const id = `gl-${++serial}`, why = reason(row, id);
    return make("div", { class: `gl-key${row.cells.length > 1 ? " gl-several" : ""}` }, make("span", { class: "gl-key-label", text: row.label }), ...row.cells.map((cell, i) => make("span", { class: "gl-key-value" },
      group.columns[i] ? make("span", { class: `gl-key-column ${side(group, i) || ""}`, text: group.columns[i] }) : null, value(row, cell, named(row, group.columns[i]), why, id))));
  };
  const table = (group, rows) => make("table", { class: "gl-table" },
    make("caption", { text: group.title }),
    group.columns.length ? make("thead", {}, make("tr", {}, make("td"), ...group.columns.map((name, i) => make("th", { scope: "col", class: side(group, i), text: name })))) : null,
    make("tbody", {}, ...rows.map(row => {
      const id = `gl-${++serial}`, why = reason(row, id);
      return make("tr", {}, make("th", { scope: "row", text: row.label }), ...row.cells.map((cell, i) => make("td", {}, value(row, cell, named(row, group.columns[i]), why, id))));
    })));
  /** Whether a number is seen at once: those of the stage, or where none is set and there is little room the first two. */
  const chosen = groups => {
    if (groups.some(group => group.more)) return group => !group.more;
    const first = few ? (groups[0]?.rows ?? []).filter(row => row.cells.length < 3).slice(0, 2) : [];
    return (_, row) => first.includes(row);
  };
  function build() {
    const groups = steps.get("readout") || [], seen = chosen(groups);
    const now = JSON.stringify([few, groups.map(g => [g.title, g.columns, g.rows.map(r => [r.label, seen(g, r), r.cells.map(c => [c.word, c.secret])])])]);
    if (now !== shape) {
      shape = now;
      // a number that was asked for takes the place of the button, and the focus with it
      const focused = [...cells].find(([, place]) => place.button === panel.ownerDocument.activeElement)?.[0];
      cells = new Map();
      reasons.replaceChildren();
      keys.replaceChildren(...groups.flatMap(group => group.rows.filter(row => seen(group, row)).map(key(group))));
      const left = groups.map(group => [group, group.rows.filter(row => !seen(group, row))]).filter(([, rows]) => rows.length);
      rest.replaceChildren(...left.map(([group, rows]) => table(group, rows)), caption);
      panel.hidden = !groups.length;
      if (open && (!cells.has(open) || cells.get(open).secret)) open = "";
      write(all.head, left.length ? "All numbers" : "In words");
      const openly = all.remembered || !few && !groups.some(group => group.more);
      if (openly !== usual) all.set(usual = openly);
      stay();
      if (focused) cells.get(focused)?.button.focus({ preventScroll: true });
    }
    for (const group of groups) for (const row of group.rows) for (const cell of row.cells) {
      const place = cells.get(cell.word);
      if (!place || place.secret) continue;
      write(place.button, cell.text);
      if (place.told) place.button.setAttribute("aria-label", `${place.spoken}: ${heardAs(cell)}. Why?`);
      else if (cell.spoken !== cell.text) { place.button.setAttribute("role", "img"); place.button.setAttribute("aria-label", heardAs(cell)); }
      place.button.classList.toggle("gl-alarm", !!cell.alarm);
    }
    explain();
  }
  function explain() {
    const told = model.get("explanation") || {};
    const shown = cells.get(open);
    for (const place of cells.values()) {
      if (place.told) place.button.setAttribute("aria-expanded", String(place === shown));
      place.why.hidden = place.why !== shown?.why;
    }
    // as wide as the explorer: under its table where the tables are that wide, else under both columns
    const table = panel.closest(".gl-beside") ? null : shown?.button.closest("table");
    reasons.hidden = !shown || !!table;
    if (!shown) return;
    if (table && shown.why.previousSibling !== table) table.after(shown.why);
    if (!table && shown.why.parentNode !== reasons) reasons.append(shown.why);
    const html = told.word === open ? told.html : "\u2026";
    if (shown.why.dataset.html === html) return;
    const first = !told.html || shown.why.dataset.word !== open;
    Object.assign(shown.why.dataset, { html, word: told.word === open ? open : "" });
    shown.why.innerHTML = html;
    inOneStop(shown.why);
    // it may stand under other numbers: what it explains is said once more
    shown.why.prepend(make("p", { class: "gl-why-head", text: shown.spoken }));
    if (first && told.word === open) shown.why.scrollIntoView({ block: "nearest" });
  }
  let heard = new Map();
  /** What has changed of the numbers that are seen since it was asked last, in some twenty words. */
  function news() {
    const groups = steps.get("readout") || [], first = chosen(groups), phrases = [[], []], now = new Map();
    for (const group of groups) for (const row of group.rows) row.cells.forEach((cell, i) => {
      if (cell.secret) return;
      now.set(cell.word, cell.text);
      const at = first(group, row) ? 0 : all.box.open ? 1 : -1;
      if (at >= 0 && heard.get(cell.word) !== cell.text) phrases[at].push(`${named(row, group.columns[i])} ${cell.spoken}`);
    });
    heard = now;
    const said = cutShort(phrases.flat(), 17);
    return said.length ? `${said.join("; ")}.` : "";
  }
  return {
    panel, build, explain, reasons, news, opened: all.box,
    /** Where there is little room only a few numbers are seen at once. */
    little(yes) { if (yes !== few) { few = yes; if (shape) build(); } },
  };
}

/** Remarks under the picture, or as the panel of the review beside the controls. */
function remarkList({ steps, make, write, changed, seen }) {
  const list = make("ul", { class: "gl-warnings" });
  const LEADS = { task: "Task", stop: "Stop", warning: "Check", good: "Right", note: "Note" };
  const item = ({ kind, text, lead, advice, does = [], more = [] }, open) => make("li", { class: `gl-is-${kind}` },
    make("strong", { text: `${lead || LEADS[kind]}: ` }), text,
    advice ? make("p", { class: "gl-advice", text: advice }) : null,
    does.length ? make("div", { class: "gl-does" }, ...does.map(({ text: words, title, name, value }) => make("button", { type: "button", class: "gl-button gl-do", text: words, title, "aria-label": begunWith(words, title),
      onclick: () => { steps.change(name, value); changed(); } }))) : null,
    more.length ? make("details", { open: open.has(lead) }, make("summary", { text: "Show them", "data-lm-suppress-shortcuts": "true" }), make("ul", {}, ...more.map(row => make("li", { text: row })))) : null);
  let heard = new Set(), troubled = false;
  return {
    list,
    /** The remarks, or sentences of them, that have come since it was asked last. */
    news() {
      const rows = steps.get("warnings") || [], now = new Set(), fresh = [];
      for (const { kind, text, lead, advice } of rows) {
        const told = [text, advice].filter(Boolean).join(" ").split(/(?<=[.:;!?]) /);
        const words = told.filter(sentence => !heard.has(kind + sentence));
        for (const sentence of told) now.add(kind + sentence);
        words.forEach((sentence, i) => fresh.push((i ? "" : `${lead || LEADS[kind]}: `) + seen(sentence).replace(/[:;]$/, ".")));
      }
      const trouble = rows.some(({ kind }) => kind === "stop" || kind === "warning");
      if (troubled && !trouble) fresh.push("Nothing to check any more.");
      [heard, troubled] = [now, trouble];
      return cutShort(fresh, 25).join(" ");
    },
    build() {
      const rows = (steps.get("warnings") || []).map(row => ({ ...row, text: seen(row.text), ...(row.advice ? { advice: seen(row.advice) } : {}) })), now = JSON.stringify(rows);
      if (list.dataset.now !== now) {
        list.dataset.now = now;
        // a button that was pressed goes with its remark: the hand stays at the next one, or at the list
        const at = [...list.querySelectorAll("button,summary")].indexOf(list.ownerDocument.activeElement);
        const open = new Set([...list.querySelectorAll("details[open]")].map(each => each.closest("li").querySelector("strong").textContent.slice(0, -2)));
        list.replaceChildren(...rows.map(row => item(row, open)));
        if (at >= 0) {
          const left = [...list.querySelectorAll("button,summary")];
          (left[Math.min(at, left.length - 1)] ?? list.closest("[tabindex]"))?.focus({ preventScroll: true });
        }
      }
      list.hidden = !rows.length;
    },
  };
}
