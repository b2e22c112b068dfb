// How the parts of an explorer share the room: all that is needed at once stands within the part of the notebook that is
// seen, and the picture takes what is left.

const LITTLE = [860, 720];     // px across and down; where there is less, a few numbers are shown and the others when asked for
const STOPS = 12;              // of the keyboard at most, where there is little room
const LOWEST = 320;            // of the picture [px]
const TOOTH = 12;              // px that teeth in mesh are high at least, where the width allows it
const BEGIN = 14;              // px that they are high where a picture begins in its close-up
const EDGE = 10;               // px that stay free above and below
const SCREENS = 1.5;           // in Large type it may be so many times as high as what is seen

function fitting({ root, win, on, undo, parts, picture, controls, readout, broad, judged, near }) {
  const { stage, left, bar, remarks, side } = parts;
  const scroller = () => root.closest(".jp-WindowedPanel-outer") ?? root.closest(".jp-Notebook");
  const tall = node => node.hidden ? 0 : node.offsetHeight;
  /** Height of what was opened: it does not count. */
  const opened = box => box.open && !box.hidden ? box.offsetHeight - box.firstChild.offsetHeight : 0;
  const extra = () => opened(readout.opened) + tall(readout.reasons);
  const edges = node => { const css = win.getComputedStyle(node); return [css.paddingLeft, css.paddingRight].reduce((sum, each) => sum + parseFloat(each), 0); };
  let width = 0, seen = 0, spoken = 0, shaped = false, touched = false;
  for (const kind of ["pointerdown", "keydown"]) root.addEventListener(kind, () => { touched = true; }, true);

  /** Tab stops of all but the controls, with the one that opens the rest of those. */
  const stopsBeside = () => 1 + [...root.querySelectorAll("button,input,select,summary,[tabindex]")].filter(node => node.tabIndex >= 0 && !node.disabled
    && !controls.panel.contains(node) && !node.closest("[inert]") && node.getClientRects().length).length;

  const visible = () => (scroller()?.clientHeight || win.innerHeight) - 2 * EDGE;
  /** Height of all that is not the picture and is needed beside it [px]; what was opened does not count. */
  const others = () => root.offsetHeight - stage.offsetHeight - opened(controls.opened) - extra() + Math.max(0, spoken - tall(remarks));

  /** How high the picture must be for teeth of such a height [px], as far as the width allows it. */
  function highFor(wide, tooth) {
    const most = picture.sizeIn(wide, Infinity).height;
    let high = LOWEST;
    while (high < most && picture.toothHeight / picture.sizeIn(wide, high).u < tooth) high += 4;
    return high;
  }

  /** Picture and panel in two columns, or one above the other; how many controls; the rest is the picture's. */
  function arrange() {
    const inner = root.clientWidth - edges(root);
    if (inner <= 0 || !stage.isConnected) return;
    const big = root.classList.contains("gl-big"), little = big || inner < LITTLE[0] || seen < LITTLE[1], room = seen * (big ? SCREENS : 1);
    root.classList.toggle("gl-little", little);
    root.classList.toggle("gl-slim", inner < LITTLE[0]);
    root.classList.toggle("gl-narrow", inner < 560);
    readout.little(little);
    // no more controls than leave Tab stops for the picture, turning and speed, "More controls", numbers and view
    const few = little ? STOPS - stopsBeside() : Infinity;
    const form = beside => { root.classList.toggle("gl-beside", beside); };
    const bare = controls.panel.hidden && readout.panel.hidden;
    controls.fold(Infinity);
    form(false);
    const under = Math.max(LOWEST, room - others() + Math.max(0, tall(controls.panel) - tall(bar) * 1.4));
    let beside = false;
    if (!bare && !judged && inner >= 560 && !(big && inner < LITTLE[0])) {
      const below = picture.sizeIn(inner, under);
      form(true);
      const upright = picture.sizeIn(stage.clientWidth, Math.max(LOWEST, room - (left.offsetHeight - stage.offsetHeight) - (left.getBoundingClientRect().top - root.getBoundingClientRect().top)));
      beside = little ? upright.u <= 1.05 * below.u : !broad;
      form(beside);
    }
    const top = left.getBoundingClientRect().top - root.getBoundingClientRect().top, frame = left.offsetHeight - stage.offsetHeight;
    const wide = stage.clientWidth;
    if (beside) {
      controls.within(Math.max(110, room - top - (side.offsetHeight - tall(controls.panel) - opened(readout.opened)) - 12), few);
    } else if (!bare) {
      // one line of controls at least; more where the picture is flat and leaves room
      const wanted = Math.max(LOWEST, Math.min(picture.sizeIn(wide, Infinity).height, room * 0.6));
      // beside a review they may be as high as it is anyway
      const beside = judged && inner >= 560 ? parseFloat(win.getComputedStyle(remarks).minHeight) || 0 : 0, row = judged ? remarks.parentNode : controls.panel;
      if (little) controls.within(Math.max(48, beside, room - wanted - others() + tall(row)), few);
    }
    let most = beside ? room - top - frame - 8 : room - others();
    // teeth that would be too low to be followed: the numbers wait under the edge of what is seen
    if (!beside && !big && picture.toothHeight / picture.sizeIn(wide, Math.max(LOWEST, most)).u < TOOTH) most += tall(readout.panel) - opened(readout.opened);
    // on a narrow page it goes on below the edge of what is seen, where its teeth are high enough then
    if (!beside && !bare && inner < 560 && picture.toothHeight / picture.sizeIn(wide, Infinity).u >= TOOTH - 0.5) most = Math.max(most, Math.min(highFor(wide, TOOTH), seen * SCREENS - others()));
    // in Large type as well the whole picture, with its buttons, is seen at once
    if (big) most = Math.min(most, seen - top - frame);
    const free = Math.max(little ? LOWEST : 260, Math.min(big ? 1400 : 620, most));
    picture.fit(wide, free, bare ? 0 : Math.min(LOWEST, free));
    // a picture whose teeth are too low begins in its close-up, until a hand has been here
    if (!touched && !bare) near(picture.begin(TOOTH - 0.5, BEGIN));
    readout.explain();
    shaped = true;
  }

  /** Again, where the room is another than it was. */
  function look() {
    const now = root.clientWidth, high = visible();
    if (now === width && high === seen) return;
    [width, seen] = [now, high];
    spoken = 0;
    arrange();
  }
  const again = () => { seen = visible(); width = root.clientWidth; arrange(); };

  const sizes = new win.ResizeObserver(entries => {
    if (entries.some(({ target }) => target === remarks)) {
      // longer remarks take their room from the picture, once: it does not go up and down with them
      const high = tall(remarks);
      if (high > spoken) { spoken = high; if (shaped && !root.classList.contains("gl-beside")) arrange(); }
    }
    look();
  });
  sizes.observe(root);
  sizes.observe(remarks);
  let watched = null;
  const watch = () => { const panel = scroller(); if (panel && panel !== watched) sizes.observe(watched = panel); };
  on(win, "resize", look);
  undo.push(() => sizes.disconnect());
  return { arrange: () => { watch(); again(); } };
}
