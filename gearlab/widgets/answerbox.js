// An answer box: fields, what was read, verdicts, hints and the worked solution.
//
// Python decides everything; this file shows `view` (what is asked: rebuilt when its key changes) and
// `status` (what is known so far: put in place), and reports what the reader does by two traits:
//   draft  {n, key, texts}        at every input, the latest one wins
//   action {n, key, texts, act}   a button; answered before the next one is taken
// Python answers each of them with status.seen = n. "Saved" is shown only then.

const PATIENCE_MS = 2000;

function make(doc, tag, attributes = {}, ...children) {
  const node = doc.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else node.setAttribute(name, value === true ? "" : String(value));
  }
  for (const child of children) if (child !== null && child !== undefined) node.append(child);
  return node;
}

// JupyterLab's one-letter shortcuts would act on the notebook while a button of ours has the focus
// (twice "d" deletes the cell). Keys with Ctrl, Meta or Alt pass, so saving still works. Escape leads back
// to the cell, as it does from a cell's text.
function guardKeys(root) {
  root.addEventListener("keydown", (event) => {
    if (event.key === "Escape") root.closest(".jp-Cell")?.focus();
    if (!(event.ctrlKey || event.metaKey || event.altKey)) event.stopPropagation();
  });
}

// The question as text stands in an output of its own before the widget, for notebooks reopened without
// a kernel; while the widget lives it would be there twice.
function hideStillTwin(root, view) {
  let tries = 0;
  const look = () => {
    const mine = root.closest(".jp-OutputArea-child");
    if (!mine) {
      if ((tries += 1) < 60) view.setTimeout(look, 50);
      return;
    }
    const before = mine.previousElementSibling;
    if (before && before.querySelector(".gearlab-twin")) before.style.display = "none";
  };
  look();
}

let boxes = 0;

function render({ model, el }) {
  const doc = el.ownerDocument;
  const win = doc.defaultView;
  const id = `gearlab-box-${(boxes += 1)}`;
  const h = (tag, attributes, ...children) => make(doc, tag, attributes, ...children);
  const root = h("div", { class: "gearlab-box" });
  el.append(root);
  guardKeys(root);
  hideStillTwin(root, win);

  let parts = {};                  // the nodes that `status` changes
  let last = Math.max(model.get("draft").n || 0, model.get("action").n || 0, model.get("status").seen || 0);
  let awaited = 0;                 // the newest report without an answer
  let waitingForAction = false;
  let timer = null;

  // ---- reading the fields ----

  function texts() {
    const found = {};
    for (const [name, field] of Object.entries(parts.fields)) found[name] = field.value();
    return found;
  }

  function report(act) {
    if (act && waitingForAction) return;
    last += 1;
    awaited = last;
    const message = { n: last, key: model.get("view").key, texts: texts() };
    if (act) {
      waitingForAction = true;
      model.set("action", { ...message, act });
    } else {
      model.set("draft", message);
    }
    try { model.save_changes(); } catch (error) { win.console.warn("gearlab: not sent", error); }
    showSaved();
    win.clearTimeout(timer);
    timer = win.setTimeout(() => { waitingForAction = false; showSaved(true); }, PATIENCE_MS);
  }

  function showSaved(late = false) {
    const status = model.get("status");
    const node = parts.saved;
    if (!node) return;
    let state = "idle", words = status.saved || "";
    if (awaited > (status.seen || 0)) {
      state = late ? "lost" : "waiting";
      words = late ? "⚠ not saved: run this cell again" : "saving …";
    } else if (status.trouble) {
      state = "lost";
      words = "⚠ " + status.trouble;
    } else if (words) {
      state = "saved";
    }
    node.dataset.state = state;
    if (node.textContent !== words) node.textContent = words;
  }

  // ---- building the box ----

  function textField(field, start) {
    const inputId = `${id}-${field.id}`;
    const echo = h("p", { class: "gearlab-echo", id: `${inputId}-read` });
    const verdict = h("div", { class: "gearlab-verdict", id: `${inputId}-verdict` });
    const shared = {
      id: inputId, class: "gearlab-input", "data-field": field.id, autocomplete: "off", spellcheck: "false",
      "aria-describedby": `${field.asked ? `${inputId}-asked ` : ""}${inputId}-read ${inputId}-verdict`, "data-lm-suppress-shortcuts": "true",
      maxlength: field.longest, oninput: () => report(),
    };
    let input;
    if (field.lines > 1) {
      input = h("textarea", { ...shared, spellcheck: "true", rows: field.lines });
    } else {
      input = h("input", { ...shared, type: "text", inputmode: field.kind === "number" ? "text" : null, onkeydown: (event) => {
        if (event.key === "Enter" && !event.isComposing && parts.main) { event.preventDefault(); parts.main.click(); }
      } });
    }
    input.value = start || "";
    const label = h("label", { for: inputId, class: "gearlab-label", id: `${inputId}-label` }, field.label);
    // The name that is read out is what is seen: the label and the unit behind the field.
    if (field.unit) input.setAttribute("aria-labelledby", `${inputId}-label ${inputId}-unit`);
    // how much of a text is used up; it is read out with the field, and does not interrupt the typing
    const count = field.count ? h("p", { class: "gearlab-count", id: `${inputId}-count` }) : null;
    const tally = () => { if (count) count.textContent = `${input.value.length} of ${field.longest} characters`; };
    if (count) { input.setAttribute("aria-describedby", `${inputId}-count ${shared["aria-describedby"]}`); input.addEventListener("input", tally); tally(); }
    const line = h("div", { class: "gearlab-line" }, input,
      field.unit ? h("span", { class: "gearlab-unit", id: `${inputId}-unit` }, field.unit) : null,
      field.asked ? h("span", { class: "gearlab-asked", id: `${inputId}-asked` }, field.asked) : null);
    const node = h("div", { class: `gearlab-field gearlab-${field.kind}` }, label,
      field.help ? h("p", { class: "gearlab-help" }, field.help) : null, line, count, echo, verdict);
    return { node, input, echo, verdict, value: () => input.value, put: (text) => { input.value = text; tally(); },
      lock: (locked) => { input.readOnly = locked; } };
  }

  function choiceField(field, start) {
    const name = `${id}-${field.id}`;
    const verdict = h("div", { class: "gearlab-verdict", id: `${name}-verdict` });
    const chosen = (text) => new Set(String(text || "").split(/[,;\s]+/).filter(Boolean));
    const inputs = field.options.map((option) => h("input", {
      type: field.several ? "checkbox" : "radio", name, value: option.id, "data-field": field.id,
      "data-lm-suppress-shortcuts": "true", onchange: () => report() }));
    const put = (text) => { const wanted = chosen(text); for (const input of inputs) input.checked = wanted.has(input.value); };
    put(start);
    const node = h("fieldset", { class: "gearlab-field gearlab-choice", "aria-describedby": `${name}-verdict` },
      h("legend", { class: "gearlab-label" }, field.label, field.asked ? h("span", { class: "gearlab-asked" }, ` ${field.asked}`) : null),
      ...field.options.map((option, i) => h("label", { class: "gearlab-option" }, inputs[i],
        field.lettered ? h("b", {}, `${option.id})`) : null, h("span", {}, option.text))), verdict);
    return { node, input: inputs[0], inputs, echo: null, verdict, put,
      value: () => inputs.filter((input) => input.checked).map((input) => input.value).join(", "),
      lock: (locked) => { for (const input of inputs) input.disabled = locked && !input.checked; node.dataset.locked = locked; } };
  }

  function button(act, words, kind = "plain") {
    return h("button", { type: "button", class: `gearlab-button gearlab-${kind}`, "data-act": act, "data-lm-suppress-shortcuts": "true",
      onclick: (event) => { if (event.currentTarget.getAttribute("aria-disabled") !== "true") report(act); } }, words);
  }

  function build() {
    const view = model.get("view");
    const draft = model.get("draft");
    const start = draft.key === view.key && draft.texts ? draft.texts : view.texts;
    const hadFocus = root.contains(doc.activeElement);
    parts = { fields: {}, buttons: {} };
    root.setAttribute("aria-label", view.name);
    root.setAttribute("role", "group");
    root.dataset.mode = view.mode;
    const head = h("div", { class: "gearlab-head" }, h("span", { class: "gearlab-title", role: "heading", "aria-level": 3 }, view.title),
      view.about ? h("span", { class: "gearlab-about" }, view.about) : null);
    const prompt = h("div", { class: "gearlab-prompt" }, ...view.prompt.map((text) => h("p", {}, text)));
    const fields = h("div", { class: "gearlab-fields" });
    for (const field of view.fields) {
      const part = field.kind === "choice" ? choiceField(field, start[field.id]) : textField(field, start[field.id]);
      parts.fields[field.id] = part;
      fields.append(part.node);
    }
    parts.saved = h("span", { class: "gearlab-saved", "data-state": "idle" });
    const row = h("div", { class: "gearlab-actions" });
    for (const [act, words, kind] of view.buttons) {
      parts.buttons[act] = button(act, words, kind);
      if (kind === "main") parts.main = parts.buttons[act];
      row.append(parts.buttons[act]);
    }
    parts.tries = h("span", { class: "gearlab-tries" });
    row.append(parts.tries, parts.saved);
    parts.said = h("p", { class: "gearlab-said gearlab-unseen", role: "status", "aria-live": "polite" });
    parts.summary = h("p", { class: "gearlab-summary" });
    parts.items = h("ul", { class: "gearlab-items" });
    parts.conditions = h("ul", { class: "gearlab-conditions", "aria-label": "what was asked of your choice" });
    parts.hints = h("ol", { class: "gearlab-hints" });
    parts.solution = h("div", { class: "gearlab-solution" });
    // How it is marked: one line, the whole in a fold.
    const contract = view.contract?.length ? h("details", { class: "gearlab-contract" },
      h("summary", { "data-lm-suppress-shortcuts": "true" }, "How it is marked"),
      ...view.contract.map((one) => h("p", {}, one.label ? h("b", {}, `${one.label}: `) : null, one.says.join(" ")))) : null;
    root.replaceChildren(head, prompt, fields, parts.conditions, parts.summary, parts.items, row, ...(contract ? [contract] : []), parts.said, parts.hints, parts.solution);
    if (hadFocus) Object.values(parts.fields)[0]?.input.focus();
    show();
  }

  // ---- showing what Python said ----

  function showEcho(part, echo) {
    if (!part.echo) return;
    const words = echo ? echo.text : "";
    const shown = JSON.stringify(echo || null);
    if (part.echo.dataset.shown === shown) return;
    part.echo.dataset.shown = shown;
    part.echo.dataset.tone = echo ? echo.tone : "none";
    part.echo.replaceChildren(words);
    if (echo && echo.html) part.echo.append(html(echo.html, "span"));
    for (const choice of echo?.readings || []) {
      part.echo.append(h("button", { type: "button", class: "gearlab-button gearlab-reading", "data-lm-suppress-shortcuts": "true",
        onclick: () => { part.put(choice.text); part.input.focus(); report(); } }, choice.label));
    }
  }

  // Only what Python typeset itself from a parsed expression comes this way, never a reader's text.
  function html(text, tag = "div") {
    const node = h(tag, { class: "gearlab-typeset" });
    node.innerHTML = text;
    return node;
  }

  function showVerdict(part, verdict) {
    const shown = JSON.stringify(verdict || null);
    if (part.verdict.dataset.shown === shown) return;
    part.verdict.dataset.shown = shown;
    part.verdict.dataset.tone = verdict ? verdict.tone : "none";
    for (const input of part.inputs || [part.input]) {
      if (verdict && verdict.tone !== "right" && verdict.tone !== "quiet") input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
    }
    if (!verdict) { part.verdict.replaceChildren(); return; }
    part.verdict.replaceChildren(h("p", { class: "gearlab-verdict-line" },
      h("span", { class: "gearlab-symbol", "aria-hidden": "true" }, verdict.symbol), h("b", {}, verdict.title),
      verdict.note ? h("span", {}, ` ${verdict.note}`) : null));
    part.verdict.append(...verdict.says.map((text) => h("p", { class: "gearlab-cause" }, text)));
  }

  // A question with many right answers: each condition, met or not, with what came out.
  function showConditions(conditions) {
    const shown = JSON.stringify(conditions);
    if (parts.conditions.dataset.shown === shown) return;
    parts.conditions.dataset.shown = shown;
    parts.conditions.replaceChildren(...conditions.map((one) => h("li", { class: "gearlab-condition", "data-tone": one.tone },
      h("span", { class: "gearlab-symbol", "aria-hidden": "true" }, one.symbol),
      h("div", {}, h("b", {}, one.title), one.says ? h("span", { class: "gearlab-says" }, one.says) : null))));
  }

  function show() {
    const status = model.get("status");
    if (status.key !== model.get("view").key) return;          // the matching view is still on its way
    for (const [name, part] of Object.entries(parts.fields)) {
      showEcho(part, (status.echoes || {})[name]);
      showVerdict(part, (status.verdicts || {})[name]);
      part.lock(Boolean(status.locked) && !(status.open || []).includes(name));
    }
    for (const [act, node] of Object.entries(parts.buttons)) {
      const wish = (status.buttons || {})[act] || {};
      node.hidden = Boolean(wish.hidden);
      if (wish.words && node.textContent !== wish.words) node.textContent = wish.words;
      if (wish.off) node.setAttribute("aria-disabled", "true"); else node.removeAttribute("aria-disabled");
    }
    showConditions(status.conditions || []);
    parts.summary.textContent = status.summary || "";
    parts.items.replaceChildren(...(status.items || []).map((item) => h("li", {}, item)));
    const hints = status.hints || [];
    if (parts.hints.children.length !== hints.length) {
      parts.hints.replaceChildren(...hints.map((hint) => h("li", {}, hint)));
    }
    if (parts.solution.dataset.shown !== (status.solution || "")) {
      parts.solution.dataset.shown = status.solution || "";
      parts.solution.replaceChildren();
      // it scrolls as one, and is one Tab stop: its formulas are none
      const name = status.solution_title || "Worked solution", there = { tabindex: 0, role: "group", "aria-label": name, "data-lm-suppress-shortcuts": true };
      for (const [key, value] of Object.entries(there)) if (status.solution) parts.solution.setAttribute(key, value); else parts.solution.removeAttribute(key);
      if (status.solution) {
        parts.solution.append(h("p", { class: "gearlab-solution-title" }, name), html(status.solution));
        for (const formula of parts.solution.querySelectorAll(".eq[tabindex]")) for (const key of ["tabindex", "role", "aria-label"]) formula.removeAttribute(key);
      }
    }
    if ((status.seen || 0) >= awaited) { win.clearTimeout(timer); waitingForAction = false; }
    parts.tries.textContent = status.tries || "";
    if (parts.said.textContent !== (status.said || "")) parts.said.textContent = status.said || "";
    showSaved();
  }

  // Another view of the same box typed something: take it over, but never under the reader's cursor.
  function follow() {
    const draft = model.get("draft");
    last = Math.max(last, draft.n || 0);
    if (draft.key !== model.get("view").key) return;
    for (const [name, part] of Object.entries(parts.fields)) {
      if (!part.node.contains(doc.activeElement) && draft.texts && draft.texts[name] !== undefined && draft.texts[name] !== part.value()) {
        part.put(draft.texts[name]);
      }
    }
  }

  model.on("change:view", build);
  model.on("change:status", show);
  model.on("change:draft", follow);
  build();

  return () => {
    win.clearTimeout(timer);
    model.off("change:view", build);
    model.off("change:status", show);
    model.off("change:draft", follow);
    root.remove();
  };
}

export default { render };
