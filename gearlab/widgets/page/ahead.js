// What the page shows, and the next states it holds ready. With picture.js and panels.js one module; see living.js.
//
// Python answers a changed control with a picture, numbers and remarks: a state. When a change has settled it works out
// the likely next states and sends them as messages; they are held here, by the settings of the controls they belong to.
// A step to a state that is held is drawn at once, and Python told after the frame. Each change has a number (turn.n),
// and each answer says which change it answers (answer.turn): what is older than the picture on the screen is not drawn.

const DRAWN = ["picture", "text", "heading", "readout", "warnings", "controls"];
const ROOM = 1e6;              // characters of the states that are held; as many again for pictures made ready
const READY = 6;               // pictures made ready
const LAID = 2;                // of these that lie painted under the one that is seen; one while a key is held
const HAND = 300;              // ms after a change in which the next one may come any moment
const TOGETHER = 80;           // ms for which a control that was stepped waits for the picture: each frame by itself costs one

/** States by their settings, the oldest out first when there is no more room. */
export function heldStates(room = ROOM) {
  const states = new Map();
  let size = 0;
  const drop = key => { size -= states.get(key)?.size ?? 0; states.delete(key); };
  return {
    put(key, state) {
      drop(key);
      if (state.size > room) return;
      states.set(key, state);
      size += state.size;
      for (const oldest of states.keys()) if (size > room) drop(oldest);
    },
    get: key => states.get(key),
    clear() { states.clear(); size = 0; },
    values: () => states.values(),
    get size() { return size; },
    get count() { return states.size; },
  };
}

function stepsAhead({ model, win, hear, redraw, dress, lay, lift, caughtUp, settle }) {
  const shown = Object.fromEntries(DRAWN.map(name => [name, model.get(name)]));
  const held = heldStates();
  const answer = () => model.get("answer") || {};
  let names = [], likely = [], number = answer().number || 0, drawn = answer().turn || 0, told = answer().told || 0;
  let untold = false, telling = 0, idle = 0, resting = 0, framed = 0, next = null, fresh = true, laid = 0;
  let late = 0;                          // the controls show an older value, until the answer is drawn
  let coming = 0, current = null;        // steps on their way to the screen; the state that is shown, where it is held
  const counts = { held: 0, asked: 0 };

  const settings = () => names.map(name => model.get(name));
  const key = values => JSON.stringify(values);

  /** Show other values of what is drawn; what is the same stays. */
  function show(fresh, ready) {
    const changed = DRAWN.filter(name => fresh[name] !== undefined && fresh[name] !== shown[name]);
    for (const name of changed) shown[name] = fresh[name];
    if (changed.length) redraw(changed, ready);
  }

  const asked = () => model.get("turn")?.n || 0;

  /** Keep the state that is shown: a step back to it needs no answer. */
  function keep() {
    if (!number || !names.length || next || asked() > drawn) return;
    const inputs = settings();
    if (!fresh && held.get(key(inputs))) return;
    fresh = false;
    current = { number, inputs, drawn: { ...shown }, size: JSON.stringify(shown).length };
    held.put(key(inputs), current);
  }

  /** A control is given a value: draw the state if it is held, and tell Python, or ask it. */
  function change(name, value, then) {
    keep();
    const before = model.get(name), left = key(settings());
    const state = names.includes(name) && held.get(key(names.map(each => each === name ? value : model.get(each))));
    if (state) catchUp();
    else late ||= win.setTimeout(catchUp, TOGETHER);
    model.set(name, value);
    const n = Math.max(asked(), drawn) + 1;
    model.set("turn", { n, name, held: state ? state.number : 0, ...(then === undefined ? {} : { then }) });
    if (!state) { counts.asked += 1; tell(); foresee(name, before, value, left); return; }
    counts.held += 1;
    drawn = n;
    number = state.number;
    state.inputs.forEach((input, i) => { if (model.get(names[i]) !== input) model.set(names[i], input); });
    foresee(name, before, value, left);
    next = state;
    // several keys may come between two frames: the first is drawn at once, of the others the last
    if (!framed) {
      step();
      framed = win.requestAnimationFrame(() => { framed = 0; step(); });
    }
    // once it is on the screen, so that the picture does not wait; where no frame is drawn, soon
    untold = true;
    win.clearTimeout(telling);
    telling = win.setTimeout(tell, 100);
    onScreen(() => { if (untold) tell(); });
  }

  function catchUp() {
    if (!late) return;
    win.clearTimeout(late);
    late = 0;
    caughtUp();
  }

  /** Do something when what is drawn now is on the screen: one frame makes the picture, and the next begins when it is painted. */
  function onScreen(act) {
    coming += 1;
    win.requestAnimationFrame(() => win.requestAnimationFrame(() => win.setTimeout(() => { coming -= 1; act?.(); soon(); })));
  }

  /** Draw the state that is held for the last key. */
  function step() {
    if (!next) return;
    const { drawn: wanted, ready } = next, before = current;
    current = next;
    next.ready = next = null;
    fresh = false;
    show(wanted, ready);
    if (!ready?.left) return;
    laid += 1;
    if (before) before.ready = ready.left;        // what was seen can be seen again: a step back
  }

  /** Until Python has said what is likely: once more the same way, and back. */
  function foresee(name, before, value, left) {
    const at = names.indexOf(name), again = Number((2 * value - before).toFixed(6));
    const along = typeof value === "number" ? [key(settings().map((each, i) => i === at ? again : each))] : [];
    likely = [...new Set([...along, left, ...likely])].slice(0, 2 * READY);
    win.clearTimeout(resting);
    resting = win.setTimeout(() => { resting = 0; soon(); }, HAND);
  }

  function tell() {
    win.clearTimeout(telling);
    untold = false;
    model.save_changes();
  }

  /** Before a cell can run: Python must have every change. One may wait behind another that is not answered yet. */
  function flush() {
    if (untold) tell();
    const turn = model.get("turn") || {};
    if (turn.n > (answer().turn || 0) && names.length) {
      model.send({ kind: "now", turn, inputs: Object.fromEntries(names.map(name => [name, model.get(name)])) });
    }
  }

  /** An answer has come: all of it is drawn, or none of it. */
  function answered() {
    const { turn = 0, told: count = 0, number: its = 0, inputs = {} } = answer();
    // changes are not echoed, each message takes a window's time: another window hears of them here
    if (turn > asked()) Object.entries(inputs).forEach(([name, value]) => model.set(name, value));
    const news = count !== told;
    told = count;
    if (turn >= asked()) catchUp();
    if (turn < drawn) return;
    if (news) {
      drawn = turn;
      number = its;
      next = null;
      fresh = true;
      current = null;
      onScreen();
      show(Object.fromEntries(DRAWN.map(name => [name, model.get(name)])));
      settle();        // laid out now, not in the frame, which has enough to do
    } else if (turn > drawn) model.send({ kind: "open" });        // drawn by another view, which held it
  }
  for (const name of DRAWN) hear(name, () => {
    if ((answer().turn || 0) < drawn) return;
    current = null;
    show({ [name]: model.get(name) });
  });
  hear("answer", answered);

  // pictures are made ready and laid while nothing else is to be done, the likeliest first
  function makeReady() {
    idle = 0;
    if (coming || next || asked() > Math.max(drawn, answer().turn || 0)) return;        // a step is to be drawn first
    keep();
    const wanted = likely.map(held.get).filter(state => state && state.drawn.picture !== shown.picture).slice(0, READY);
    for (const state of held.values()) if (state.ready && !wanted.includes(state)) state.ready = null;
    const under = wanted.slice(0, LAID).filter(state => !resting || state === held.get(likely[0]));
    lift(under.map(state => state.ready));
    let room = ROOM - outlineStore.size;
    for (const state of wanted) {
      if (!state.ready) {
        state.ready = dress(state.drawn.picture, name => state.inputs[names.indexOf(name)]);
        soon();
        return;
      }
      room -= state.ready.size;
      if (room < 0) { state.ready = null; lift(wanted.map(other => other.ready)); return; }
      if (under.includes(state) && lay(state.ready)) { soon(); return; }
    }
  }
  const later = win.requestIdleCallback?.bind(win) ?? (act => win.setTimeout(act, 1));
  function soon() { if (!coming) idle ||= later(makeReady, { timeout: 300 }); }

  const message = content => {
    if (content.kind === "likely") {
      names = content.names;
      likely = content.wished.map(key);
    } else if (content.kind === "ahead") {
      held.put(key(content.wished), content);
    } else return;
    soon();
  };
  model.on("msg:custom", message);
  const lost = () => { lift(); held.clear(); names = []; };        // nobody answers any more, or a kernel that knows nothing of these
  model.on("comm_live_update", lost);

  return {
    change, flush, keep,
    get: name => DRAWN.includes(name) ? shown[name] : model.get(name),
    /** The hand is at a control: its next values may be worked out. */
    near: name => model.send({ kind: "near", name }),
    open: () => model.send({ kind: "open" }),
    /** The picture stands again: others may lie under it. */
    rested: () => soon(),
    /** The pictures made ready are not as the page shows them now. */
    undress() { lift(); for (const state of held.values()) state.ready = null; soon(); },
    forget: () => { lift(); held.clear(); },
    get bytes() { return outlineStore.size + held.size + [...held.values()].reduce((sum, state) => sum + (state.ready?.size || 0), 0); },
    get holds() { return held.count; },
    get ready() { return [...held.values()].filter(state => state.ready).length; },
    get turn() { return drawn; },
    get late() { return !!late; },
    get laid() { return laid; },            // steps whose picture lay ready
    counts,
    stop() {
      win.clearTimeout(telling); win.clearTimeout(resting); win.clearTimeout(late); win.cancelAnimationFrame(framed);
      next = null;
      model.off("msg:custom", message);
      model.off("comm_live_update", lost);
      held.clear();
      names = [];
    },
  };
}
