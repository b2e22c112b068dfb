"""A real Chromium, a widget in a bare page behind a small model, and a JupyterLab server.

Fixtures
--------
chromium          the browser (session); where there is none, tests skip with the reason, and fail in CI
tabs              a function: ``tabs(width=1000, ...) -> page``, an empty one; see ``Tabs.take``
page_with_widget  a function: ``page_with_widget(widget, width=1000, ...) -> Shown``
lab               a JupyterLab server of its own: ``lab.open(cells) -> page`` with the notebook run
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars", "--mute-audio"]
ORIGIN = "http://gearlab.test/"

MODEL = """
// the part of a widget's model that a widget may use, counting its messages
window.GearlabModel = class {
  constructor(state) { this.state = state; this.acts = {}; this.dirty = {}; this.messages = []; this.listeners = 0; this.answered = 0; this.clock = 0; this.touched = {}; }
  get(name) { return this.state[name]; }
  set(name, value) { if (JSON.stringify(this.state[name]) === JSON.stringify(value)) return; this.state[name] = value; this.dirty[name] = value; this.touched[name] = ++this.clock; this.fire(name); }
  save_changes() { if (!Object.keys(this.dirty).length) return; const changes = this.dirty; this.dirty = {}; this.messages.push(changes);
    const sent = this.clock; window.gearlabPush(JSON.stringify(changes)).then(text => { this.receive(JSON.parse(text), sent); this.answered += 1; }); }
  // an answer never undoes what was changed here after the question was sent (the notebook's own models keep to that too)
  receive(state, sent = Infinity) { const names = Object.keys(state).filter(n => !(this.touched[n] > sent) && JSON.stringify(this.state[n]) !== JSON.stringify(state[n]));
    for (const n of names) this.state[n] = state[n]; for (const n of names) this.fire(n); window.gearlabSeen = (window.gearlabSeen || 0) + 1; }
  on(event, act) { (this.acts[event] ??= new Set()).add(act); this.listeners += 1; }
  off(event, act) { if (this.acts[event]?.delete(act)) this.listeners -= 1; }
  fire(name) { for (const act of [...(this.acts["change:" + name] || [])]) act(); }
  send(content) { const sent = this.clock; window.gearlabSend(JSON.stringify(content)).then(text => text && this.receive(JSON.parse(text), sent)); }
  custom(content) { for (const act of [...(this.acts["msg:custom"] || [])]) act(content); }
};
"""  # noqa: E501

PAGE = """<!doctype html><html lang="en"><meta charset="utf-8"><link rel="icon" href="data:,"><title>gearlab</title>
<body data-jp-theme-light="{light}" style="margin:0;padding:16px;background:{paper};font-family:system-ui,sans-serif"><div id="place"></div></body></html>"""  # noqa: E501


def _absent(reason: str):
    if os.environ.get("CI", "").lower() == "true":
        pytest.fail(f"{reason}; in CI the browser tests must run")
    pytest.skip(reason)


@pytest.fixture(scope="session")
def chromium():
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        _absent("playwright is not installed (pip install 'gearlab[test]')")
    with sync_playwright() as playwright:
        path = next(
            filter(
                None,
                (
                    os.environ.get("GEARLAB_CHROMIUM"),
                    *map(shutil.which, ("chromium", "chromium-browser", "google-chrome")),
                ),
            ),
            None,
        )
        try:
            browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        except Exception as error:  # no browser of playwright's own either
            _absent(
                f"no Chromium could be started ({str(error).splitlines()[0]}); set GEARLAB_CHROMIUM to its"
                " path"
            )
        yield browser
        browser.close()


class Shown:
    """A widget alive in a page: the real Python object behind the page's model."""

    def __init__(self, page, widget):
        self.page, self.widget = page, widget
        self.sent: list[dict] = []  # messages of Python that the page has not had yet
        self.heard: list[dict] = []  # messages of the page
        self.due: list = []  # what Python works out ahead when it is let
        widget.send = lambda content, buffers=None: self.sent.append(content)
        if getattr(widget, "ahead", None):
            widget.ahead.later = lambda delay, act: self.due.append(act)

    @property
    def errors(self) -> list[str]:
        """What the page has reported so far, apart from a missing icon."""
        return [
            text
            for kind, text in self.page.heard
            if kind == "pageerror" or kind == "error" and "favicon" not in text
        ]

    def state(self) -> dict:
        # what the page has drawn from its own is not sent to it
        unsent = widget_ahead.unsent if (widget_ahead := getattr(self.widget, "ahead", None)) else ()
        left_out = ("layout", "comm", "_esm", "_css", "_anywidget_id", *unsent)
        return {
            name: value
            for name, value in self.widget.get_state().items()
            if name not in left_out and not name.startswith("_")
        }

    def receive(self, text: str) -> str:
        self.widget.set_state(json.loads(text))
        return json.dumps(self.state())

    def hear(self, text: str) -> str:
        """A message of the page; the answer is the widget's state, if that has changed."""
        before, content = self.state(), json.loads(text)
        self.heard.append(content)
        self.widget._handle_custom_msg(content, [])
        after = self.state()
        return json.dumps(after) if after != before else ""

    def work_ahead(self) -> list[dict]:
        """Let Python work out the states that are due, and hand them to the page; returns them."""
        while self.due:
            self.due.pop(0)()
        messages, self.sent = self.sent, []
        for message in messages:
            self.page.evaluate("text => model.custom(JSON.parse(text))", json.dumps(message))
        return [message for message in messages if message["kind"] == "ahead"]

    def push(self) -> None:
        """Hand what Python has changed to the page."""
        self.page.evaluate("text => model.receive(JSON.parse(text))", json.dumps(self.state()))

    @property
    def messages(self) -> list[dict]:
        """What the page has sent to Python, oldest first."""
        return self.page.evaluate("() => model.messages")

    def rest(self) -> None:
        """Wait until the gears stand, their angle has been told to Python and every message is answered."""
        self.page.wait_for_function(
            """() => { const picture = document.querySelector('.gl').living;
            return !picture.playing && Math.abs(model.get('angle') - picture.angle) < 1e-5
              && !Object.keys(model.dirty).length && model.answered === model.messages.length }"""
        )

    def pass_frames(self, count: int = 12) -> None:
        """Let the page draw some frames: as many as it takes, not as long as they take elsewhere."""
        self.page.evaluate(
            """count => new Promise(done => {
            const next = () => count-- > 0 ? requestAnimationFrame(next) : done();
            next(); })""",
            count,
        )

    def run_clock(self, milliseconds: int) -> None:
        """Move the clock of a page shown with ``clock=False``; timers and frames come in their turn."""
        self.page.clock.run_for(milliseconds)


class Tabs:
    """Empty pages, each used by one test after another: a new one costs a second of processor.

    What a test leaves goes with its document; media, window, mouse and keys are put back. A page whose clock
    a test has replaced is not used again.
    """

    def __init__(self, browser):
        self.browser = browser
        self.free: dict[float, list] = {}
        self.taken: list[tuple] = []

    def take(
        self,
        width: int = 1000,
        height: int = 900,
        *,
        dark: bool = False,
        reduced: bool = False,
        scale: float = 1.0,
    ):
        """A page whose ``calls`` are what it may call in Python, and whose ``serve`` answers its requests.

        In the page a function stands as ``gearlabPush``, ``gearlabSend`` or ``python``.
        """
        page = free.pop() if (free := self.free.setdefault(scale, [])) else self._new(scale)
        self.taken.append((scale, page))
        page.calls, page.serve, page.heard = {}, lambda url: ("", ""), []
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(
            media="screen",
            color_scheme="dark" if dark else "light",
            reduced_motion="reduce" if reduced else "no-preference",
        )
        return page

    def _new(self, scale: float):
        page = self.browser.new_context(device_scale_factor=scale).new_page()
        page.set_default_timeout(15_000)
        page.clock_replaced, install = False, page.clock.install

        def replace_clock(**given):
            page.clock_replaced = True
            install(**given)

        page.clock.install = replace_clock
        for name in ("gearlabPush", "gearlabSend", "python"):
            page.expose_function(name, lambda given, name=name: page.calls[name](given))

        def answer(route):
            body, kind = page.serve(route.request.url)
            route.fulfill(
                status=200 if kind else 204, body=body, content_type=f"{kind or 'text/plain'}; charset=utf-8"
            )

        page.route(re.compile("^http://"), answer)
        page.on("pageerror", lambda error: page.heard.append(("pageerror", str(error))))
        page.on("console", lambda message: page.heard.append((message.type, message.text)))
        return page

    def give_back(self) -> None:
        """Empty what was taken since."""
        while self.taken:
            scale, page = self.taken.pop()
            if page.is_closed() or page.clock_replaced:
                page.context.close()
                continue
            for key in ("Shift", "Control", "Alt", "Meta"):
                page.keyboard.up(key)
            page.mouse.up()
            if page.url.startswith("http"):
                page.evaluate("() => { localStorage.clear(); sessionStorage.clear() }")
            page.goto("about:blank")
            page.mouse.move(0, 0)
            self.free[scale].append(page)


@pytest.fixture(scope="session")
def all_tabs(chromium):
    return Tabs(chromium)


@pytest.fixture
def tabs(all_tabs):
    yield all_tabs.take
    all_tabs.give_back()


@pytest.fixture
def page_with_widget(tabs):
    all_shown = []

    def show(
        widget,
        *,
        width: int = 1000,
        height: int = 900,
        dark: bool = False,
        reduced: bool = False,
        scale: float = 1.0,
        clock: bool = True,
    ) -> Shown:
        page = tabs(width, height, dark=dark, reduced=reduced, scale=scale)
        if not clock:  # timers and frames come only when the test says so, however busy the machine is
            page.clock.install(time=0)
            page.clock.pause_at(1000)
        shown = Shown(page, widget)
        all_shown.append(shown)
        text = PAGE.format(light=str(not dark).lower(), paper="#111111" if dark else "#ffffff")
        # in the page itself: each request passes through three processes
        text = text.replace("<body", f"<style>{widget._css}</style><script>{MODEL}</script><body", 1)
        files = {"": (text, "text/html"), "widget.js": (str(widget._esm), "text/javascript")}
        page.serve = lambda url: files.get(url[len(ORIGIN) :], ("", ""))
        page.calls = {"gearlabPush": shown.receive, "gearlabSend": shown.hear}
        page.goto(ORIGIN)
        page.evaluate(
            """async state => {
            const module = (await import("/widget.js"));
            window.widgetModule = module;
            window.model = new GearlabModel(JSON.parse(state));
            const el = document.getElementById("place");
            window.cleanup = await module.default.render({ model, el });
        }""",
            json.dumps(shown.state()),
        )
        return shown

    yield show
    errors = [error for shown in all_shown for error in shown.errors]
    assert not errors, f"the page reported errors: {errors}"


class Lab:
    """A JupyterLab server in a folder of its own, ended by its own process id.

    With ``keep`` the page of JupyterLab, whose start takes ten seconds of processor, is used again when it
    has been closed: with another notebook and another kernel.
    """

    def __init__(self, folder: Path, browser, keep: bool = False):
        self.folder, self.browser, self.keep, self.opened = folder, browser, keep, 0
        self.free: dict[float, list] = {}  # closed pages, by scale
        self.root = folder / "root"
        settings = folder / "config" / "labconfig"
        settings.mkdir(parents=True)
        self.root.mkdir()
        (settings / "page_config.json").write_text(
            json.dumps({"disabledExtensions": {"@jupyterlab/apputils-extension:announcements": True}})
        )
        environment = dict(
            os.environ,
            HOME=str(folder),
            JUPYTER_CONFIG_DIR=str(folder / "config"),
            JUPYTER_DATA_DIR=str(folder / "data"),
            JUPYTER_RUNTIME_DIR=str(folder / "runtime"),
            IPYTHONDIR=str(folder / "ipython"),
            MPLCONFIGDIR=str(folder / "mpl"),
            PYTHONPATH=os.pathsep.join(sys.path),
        )
        environment.pop("GEARLAB_ANSWERS", None)  # as a reader has it: answers lie beside the notebook
        environment.pop("GEARLAB_TEST", None)  # and a surprise waits for a prediction
        self.log = (folder / "server.log").open("w")
        self.process = subprocess.Popen(
            [
                sys.executable,
                "-m",
                "jupyterlab",
                "--no-browser",
                "--allow-root",
                "--ServerApp.ip=127.0.0.1",
                "--ServerApp.port=0",
                "--IdentityProvider.token=",
                f"--ServerApp.root_dir={self.root}",
                "--LabApp.expose_app_in_browser=True",
                "--ServerApp.disable_check_xsrf=True",
            ],
            env=environment,
            stdout=self.log,
            stderr=subprocess.STDOUT,
        )
        self.url = self._wait()

    def _wait(self) -> str:
        deadline = time.monotonic() + 120
        note = self.folder / "runtime" / f"jpserver-{self.process.pid}.json"
        while time.monotonic() < deadline:
            if self.process.poll() is not None:
                break
            try:
                url = json.loads(note.read_text())["url"]
                urllib.request.urlopen(url + "api/status", timeout=2).read()
                return url
            except (OSError, ValueError):
                time.sleep(0.1)
        raise RuntimeError("JupyterLab did not start:\n" + (self.folder / "server.log").read_text()[-3000:])

    def open(
        self,
        cells: list[str],
        *,
        run: bool = True,
        width: int = 1360,
        height: int = 1000,
        scale: float = 1.0,
        dark: bool = False,
    ):
        """Open a new notebook with these code cells and run them.

        The page carries ``page.traffic`` (kernel messages: way, kind, size) and ``page.notebook``.
        """
        import nbformat

        self.opened += 1
        name = f"t{self.opened}.ipynb"
        notebook = nbformat.v4.new_notebook(
            cells=[nbformat.v4.new_code_cell(cell) for cell in cells],
            metadata={"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}},
        )
        nbformat.write(notebook, self.root / name)
        return self.open_file(name, run=run, width=width, height=height, scale=scale, dark=dark)

    def open_file(
        self,
        name: str,
        *,
        run: bool = False,
        width: int = 1360,
        height: int = 1000,
        scale: float = 1.0,
        dark: bool = False,
    ):
        """Open a notebook that lies in the server's folder, and perhaps run it.

        The page is as from :meth:`open`.
        """
        kept = bool(self.free.get(scale))
        page = self.free[scale].pop() if kept else self._new(scale)
        page.set_viewport_size({"width": width, "height": height})
        page.traffic, page.notebook = [], self.root / name
        if not kept:
            page.goto(f"{self.url}lab/tree/{name}?reset")
        else:
            page.evaluate(
                "path => { jupyterapp.commands.execute('docmanager:open', { path, factory: 'Notebook' }) }",
                name,
            )
        page.wait_for_function(
            """path => { const w = window.jupyterapp?.shell.currentWidget;
            return !!(w?.context?.isReady && w.context.path === path
              && w.sessionContext?.session?.kernel?.status === 'idle') }""",
            arg=name,
            timeout=90_000,  # on a busy machine JupyterLab takes 40 s to start
        )
        page.evaluate(
            """() => { if (!jupyterapp.shell.leftCollapsed)
            jupyterapp.commands.execute('application:toggle-left-area').catch(() => {}) }"""
        )
        if dark:
            page.evaluate(
                "() => { jupyterapp.commands.execute('apputils:change-theme', { theme: 'JupyterLab Dark' }) }"
            )
            page.wait_for_selector("body[data-jp-theme-light=false]", state="attached")
        begun = (
            "() => [...document.querySelectorAll('.jp-InputPrompt')].some(prompt =>"
            " /[*0-9]/.test(prompt.textContent))"
        )
        # on a busy machine a first command may come before the notebook listens
        for _ in range(3 if run else 0):
            page.evaluate("() => { jupyterapp.commands.execute('notebook:run-all-cells') }")
            try:
                page.wait_for_function(begun, timeout=8000)
                break
            except Exception:
                continue
        return page

    def _new(self, scale: float):
        page = self.browser.new_context(device_scale_factor=scale).new_page()
        page.scale = scale
        page.on(
            "websocket",
            lambda socket: (
                (
                    socket.on("framesent", lambda data: page.traffic.append(("sent", *_told(data)))),
                    socket.on("framereceived", lambda data: page.traffic.append(("received", *_told(data)))),
                )
                if "/channels" in socket.url
                else None
            ),
        )
        return page

    def finished(self, page) -> None:
        """Wait until every code cell has run and the kernel is idle."""
        page.wait_for_function(
            """() => { const w = window.jupyterapp.shell.currentWidget;
            return w.content.widgets.every(c => c.model.type !== 'code' || c.model.executionCount > 0)
              && w.sessionContext.session?.kernel?.status === 'idle' }""",
            timeout=40_000,
        )

    def close(self, page) -> None:
        """Close a page, or its notebook, and end its kernel."""
        for session in json.loads(urllib.request.urlopen(self.url + "api/sessions").read()):
            request = urllib.request.Request(f"{self.url}api/sessions/{session['id']}", method="DELETE")
            urllib.request.urlopen(request).read()
        if not self.keep:
            page.context.close()
            return
        page.evaluate(
            "() => { for (const widget of [...jupyterapp.shell.widgets('main')]) widget.dispose() }"
        )
        page.wait_for_function("() => !jupyterapp.shell.currentWidget?.context")
        self.free.setdefault(page.scale, []).append(page)

    def stop(self) -> None:
        try:
            urllib.request.urlopen(
                urllib.request.Request(self.url + "api/shutdown", method="POST"), timeout=5
            ).read()
            self.process.wait(8)
        except (OSError, subprocess.TimeoutExpired):
            self.process.kill()
            self.process.wait()
        self.log.close()


def _told(data) -> tuple[str, int]:
    """Kind and size of a kernel message; its header stands in it as JSON, whatever is around it."""
    found = re.search(rb'"msg_type":\s*"(\w+)"', data if isinstance(data, bytes) else data.encode())
    return found.group(1).decode() if found else "", len(data)


@pytest.fixture(scope="session")
def lab(chromium, tmp_path_factory):
    server = Lab(tmp_path_factory.mktemp("lab"), chromium, keep=True)
    yield server
    server.stop()
