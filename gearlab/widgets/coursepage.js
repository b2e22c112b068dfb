// One part of the course page: HTML made by Python. A button tells Python which question to ask; a link opens a file.

function render({ model, el }) {
  const doc = el.ownerDocument, win = doc.defaultView;
  const root = doc.createElement("section");
  root.className = "gearlab-course";
  root.setAttribute("aria-label", model.get("name"));
  el.append(root);
  let timer = null;

  // JupyterLab's one-letter shortcuts stay away from a focused button (twice "d" deletes the cell)
  root.addEventListener("keydown", (event) => {
    if (event.key === "Escape") root.closest(".jp-Cell")?.focus();
    if (!(event.ctrlKey || event.metaKey || event.altKey)) event.stopPropagation();
  });

  function build() {
    const open = new Set([...root.querySelectorAll("details[open]")].map((one) => one.dataset.skill));
    const held = root.contains(doc.activeElement) ? doc.activeElement.dataset.ask || doc.activeElement.closest("details")?.dataset.skill : "";
    root.innerHTML = model.get("html");             // made and escaped by Python
    for (const one of root.querySelectorAll("details")) one.open = open.has(one.dataset.skill);
    if (held) [...root.querySelectorAll("[data-ask], summary")].find((one) => (one.dataset.ask || one.parentNode.dataset.skill) === held)?.focus();
  }

  // the still page, an output of its own before this one, is for readers without a kernel; its links know the way
  const still = () => root.closest(".jp-OutputArea-child")?.previousElementSibling;
  let tries = 0;
  function hide() {
    const before = still();
    if (before === undefined) { if ((tries += 1) < 60) win.setTimeout(hide, 50); return; }
    if (before && before.querySelector(".gearlab-twin")) before.style.display = "none";
  }

  function openFile(event, link) {
    const same = [...(still()?.querySelectorAll("a") || [])].find((one) => one.textContent === link.textContent);
    if (!same) return;
    event.preventDefault();
    same.click();
  }

  // the box that was asked for comes into sight, and the keyboard goes on in it
  function goThere(before) {
    let looks = 0;
    const look = () => {
      const box = root.closest(".gearlab-course-page")?.querySelector(".gearlab-box");
      if (!box || box === before) { if ((looks += 1) < 80) timer = win.setTimeout(look, 50); return; }
      box.scrollIntoView({ block: "center" });
      box.querySelector("input, textarea, button")?.focus({ preventScroll: true });
    };
    look();
  }

  root.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-file]"), button = event.target.closest("[data-ask]");
    if (link) openFile(event, link);
    if (!button) return;
    const before = root.closest(".gearlab-course-page")?.querySelector(".gearlab-box");
    model.set("asked", { question: button.dataset.ask, n: (model.get("asked").n || 0) + 1 });
    model.save_changes();
    goThere(before);
  });

  model.on("change:html", build);
  build();
  hide();
  return () => { win.clearTimeout(timer); model.off("change:html", build); root.remove(); };
}

export default { render };
