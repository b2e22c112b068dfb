// A scene that turns in the browser, with its controls and its numbers.
//
// Python sends the picture as SVG text with one tooth of each gear; here the tooth is repeated and the
// gears are turned, frame by frame, without a word to the kernel. Python hears of the angle only when it
// has come to rest, and of a control when it is moved.
//
// The model's traits: picture, text, angle, playing, driver_speed, controls, readout, warnings, asked, explanation,
// heading, counts, wide, turn (the number of the change made here last) and answer (of the change that Python answered
// last), reviewed (whether the remarks are a panel beside the controls), designed and used (whether a design can take the numbers, and what that moved); and one trait for each control, by
// its name.
//
// The module is made of plain files, joined by living.py in this order: geometry.js (pure functions), behind.js (seen
// from behind), dressing.js (a picture made ready), sheet.js (a picture at a scale and an angle), picture.js (the gears),
// panels.js (play bar, controls, readout), fit.js (how they share the room), ahead.js (states that are held),
// living.js (all of it together).

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
  const announce = text => write(status, text);

  // keys that belong to the widget stay in it: the notebook would delete or insert cells; Escape leads back to the cell
  on(root, "keydown", event => {
    if (event.key === "Escape" && !event.defaultPrevented) root.closest(".jp-Cell")?.focus();
    const run = event.key === "Enter" && (event.shiftKey || event.ctrlKey || event.altKey || event.metaKey);
    if (run) steps.flush();
    if (!(event.ctrlKey || event.metaKey || event.altKey || run)) event.stopPropagation();
  });

  on(root, "focusout", event => { if (!root.contains(event.relatedTarget)) steps.flush(); });
  const rest = { playing: () => {} };
  const steps = stepsAhead({ model, win, hear, redraw: (names, ready) => redraw(names, ready), dress: (text, value) => picture.dress(text, value),
    lay: ready => picture.lay(ready), lift: but => picture.lift(but),
    caughtUp: () => controls.refresh(), settle: () => root.offsetHeight });
  const picture = livingPicture({ model, steps, root, stage, announce, on, rest, control: name => controls.row(name), changed: () => changed() });
  const bar = playBar({ model, make, write, picture, on });
  rest.playing = bar.playing;

  // after a restart the old picture still stands there, but nobody answers: say so
  let speaking = 0, waiting = 0;
  const silent = make("p", { class: "gl-silent", role: "alert", hidden: true });
  const answered = () => { win.clearTimeout(waiting); silent.hidden = true; write(silent, ""); };
  const changed = () => {
    win.clearTimeout(waiting);
    waiting = win.setTimeout(() => {
      silent.hidden = false;
      write(silent, "No answer. Python is busy, or was restarted: wait a moment, or run this cell again.");
    }, 5000);
    speak();
  };
  const speak = () => {
    win.clearTimeout(speaking);
    owed = true;
    speaking = win.setTimeout(() => {
      const words = news();
      if (!words) return;        // the answer is still to come
      owed = false;
      announce(words);
    }, 900);
  };
  // what is new: numbers, else sentences about the picture, and remarks; never all of it again
  let owed = false, described = new Set();
  const news = () => {
    const sentences = told().split(/(?<=[.;]) /), fresh = sentences.filter(sentence => !described.has(sentence));
    described = new Set(sentences);
    const numbers = (steps.get("readout") || []).length ? readout.news() : cutShort(fresh, 20).join(" ");
    return [numbers, remarks.news()].filter(Boolean).join(" ");
  };
  // seen from behind: the words of picture and remarks with it; the numbers keep their signs, and that is said
  const turned = () => !!model.get("behind") && picture.ofGears;
  const seen = text => turned() ? wordsFromBehind(text) : text;
  const kit = { model, steps, make, write, changed, seen, caption, fit: () => room?.arrange() };
  let room = null;
  const controls = controlPanel(kit), readout = readoutPanel(kit), remarks = remarkList(kit);
  // the review stands beside the controls, where it is in sight while one is moved
  const review = model.get("reviewed") ? make("div", { class: "gl-review", role: "group", "aria-label": "Review", tabindex: 0, "data-lm-suppress-shortcuts": "true" }, remarks.list) : null;

  const toggle = (text, name, act) => {
    const button = make("button", { type: "button", class: "gl-button gl-toggle", text, title: name, "aria-pressed": "false", onclick: () => {
      const yes = button.getAttribute("aria-pressed") !== "true";
      button.setAttribute("aria-pressed", String(yes));
      act(yes);
    } });
    return button;
  };
  let stopTools = () => {};
  const told = () => (turned() ? BEHIND : "") + seen(steps.get("text") || "");
  const signs = make("p", { class: "gl-signs", text: "Tables and controls keep their signs and sides, seen from the gear side: counter-clockwise is positive." });
  const back = toggle("From behind", "View from behind: turn the picture over", yes => { model.set("behind", yes); model.save_changes(); });
  const turnRound = () => { steps.undress(); load(); words(); bar.speed(); room.arrange(); announce(turned() ? "Seen from behind." : "Seen from the gear side."); };
  const near = toggle("Close-up", "Show the teeth in mesh, enlarged", yes => { closer(yes); picture.zoom(yes); });
  const closer = yes => { near.setAttribute("aria-pressed", String(yes)); root.classList.toggle("gl-near", yes); };
  const big = toggle("Large type", "Larger type and lines, for a projector", yes => { root.classList.toggle("gl-big", yes); room.arrange(); picture.resize(); });

  // a design takes the numbers that are shown; what that moved in it is told beside the button
  const use = make("button", { type: "button", class: "gl-button gl-toggle", text: "Use in my design", title: "Put these numbers into the design", onclick: () => { steps.flush(); model.send({ kind: "use" }); } });
  const used = make("p", { class: "gl-used", "aria-live": "polite" });
  const tell = () => { use.hidden = !model.get("designed"); write(used, model.get("used") || ""); used.hidden = !model.get("used"); stopTools(); };

  // the picture first, for the keyboard too; the tools stand in the first line, but come last
  const view = make("div", { class: "gl-tools", role: "toolbar", "aria-label": "View" }, near, back, big, use);
  const left = make("div", { class: "gl-left" }, silent, make("div", { class: "gl-frame" }, stage), bar.bar, signs, used);
  const side = make("div", { class: "gl-side" }, review ? make("div", { class: "gl-judged" }, controls.panel, review) : controls.panel, review ? null : remarks.list, readout.panel);
  root.append(make("div", { class: "gl-head" }, heading), make("div", { class: "gl-main" }, left, side, readout.reasons), view, status);
  stopTools = oneStop(view, "button");
  el.append(root);

  function words() {
    write(heading, steps.get("heading") || "");
    root.setAttribute("aria-label", steps.get("heading") || "Living picture");
    write(caption, told());
    remarks.build();
  }
  function load(ready) {
    picture.load(ready);
    near.hidden = !picture.hasFocus;
    back.hidden = !picture.ofGears;
    back.setAttribute("aria-pressed", String(turned()));
    signs.hidden = !turned();
    bar.bar.hidden = !picture.handles.length;
    const plain = !(steps.get("readout") || []).length;
    root.classList.toggle("gl-plain", plain);
    if (plain && caption.parentNode !== left) left.append(caption);
    root.classList.toggle("gl-wide", !!model.get("wide"));
    root.classList.toggle("gl-reviewed", !!review);
    stopTools();
    root.classList.toggle("gl-counting", !!model.get("counts"));
  }
  hear("wide counts", () => load());
  hear("seen", answered);
  const refresh = () => { if (!steps.late) controls.refresh(); speak(); };
  const heard = new Set();        // the controls may change with the unit or the tooth system
  const hearControls = () => {
    for (const { name } of steps.get("controls") || []) if (!heard.has(name)) { heard.add(name); hear(name, refresh); }
  };
  // what is new of a state: the controls first, because a handle in the picture speaks as its control does
  function redraw(names, ready) {
    const some = (...wanted) => wanted.some(name => names.includes(name));
    if (some("controls")) { hearControls(); controls.build(); }
    if (some("picture")) load(ready);
    if (some("text", "heading", "warnings")) words();
    if (some("readout")) readout.build();
    if (owed && some("readout", "text", "warnings")) speak();
  }
  hear("behind", turnRound);
  hear("explanation", readout.explain);
  hear("designed used", tell);
  tell();
  hear("angle playing", picture.fromPython);
  hear("driver_speed", () => { bar.speed(); picture.run(); });
  hearControls();
  controls.build();
  readout.build();
  load();
  words();
  bar.speed();
  room = fitting({ root, win, on, undo, picture, controls, readout, broad: !!model.get("wide"), judged: !!review, near: closer, parts: { stage, left, bar: bar.bar, remarks: review ?? remarks.list, side } });
  room.arrange();
  bar.playing(picture.playing);
  picture.run();
  news();        // what stands there at first is not news

  // the still picture in the output before this one is for readers without a kernel
  let hidden = null, tries = 0, looking = 0;
  const find = () => {
    const mine = root.closest(".jp-OutputArea-child");
    if (!mine) { if (root.isConnected ? tries++ < 40 : tries++ < 200) looking = win.setTimeout(find, 50); return; }
    const before = mine.previousElementSibling;
    if (before?.querySelector("img, svg")) { hidden = before; before.style.display = "none"; }
  };
  find();

  steps.open();
  root.living = picture;       // for tests and measurements
  root.steps = steps;
  return () => {
    picture.stop();
    steps.stop();
    win.clearTimeout(speaking); win.clearTimeout(waiting); win.clearTimeout(looking);
    if (hidden) hidden.style.display = "";
    undo.forEach(act => act());
    root.remove();
  };
}

export default { render };
