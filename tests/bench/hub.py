"""A class on a shared JupyterHub: run `python tests/bench/hub.py [--users 5] [--proxy PATH]`.

A real hub with its proxy on this machine, one notebook server a user. All users log in at once, get a copy of
the workbook, open a lesson and run it, then open their hand-out and answer it in their own browsers; what
they handed in is collected and marked. Told are the times of each step (median and longest), the memory of
each user's server and kernels, and what was marked.

As root on Linux all of this runs without a network (nothing but the loopback) and with the package mounted
read-only, as it should be in a school; told where that cannot be.

Needs the extra ``hub`` (`pip install -e '.[test,hub]'`) and the hub's proxy, which comes from the npm
registry: `npm install configurable-http-proxy` in any folder, its `node_modules/.bin` on the PATH or named by
--proxy.
"""

import argparse
import asyncio
import fcntl
import os
import shutil
import signal
import socket
import statistics
import struct
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import psutil
from rich.console import Console
from rich.table import Table

TESTS = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(TESTS / "course"))
from greenhouse import right_answers, write_course  # noqa: E402

import gearlab  # noqa: E402
from gearlab.course.coursekey import make_key  # noqa: E402
from gearlab.course.handout.edition import SheetMaker, edition_of  # noqa: E402
from gearlab.course.handout.making import hand_out  # noqa: E402
from gearlab.course.marking.whole import mark  # noqa: E402
from gearlab.course.roster import read_roster  # noqa: E402

SETTINGS = """
import asyncio, os, sys
c = get_config()
c.JupyterHub.bind_url = "http://127.0.0.1:{port}"
c.JupyterHub.hub_port = {hub_port}
c.ConfigurableHTTPProxy.api_url = "http://127.0.0.1:{api_port}"
c.ConfigurableHTTPProxy.command = [{node!r}, {proxy!r}]
c.JupyterHub.authenticator_class = "dummy"
c.DummyAuthenticator.password = "greenhouse"
c.Authenticator.allow_all = True
c.JupyterHub.spawner_class = "simple"
c.SimpleLocalProcessSpawner.home_dir_template = {homes!r} + "/{{username}}"
c.Spawner.cmd = [sys.executable, "-m", "jupyterhub.singleuser"]
c.Spawner.notebook_dir = "~"
c.Spawner.default_url = "/lab"
c.Spawner.start_timeout = c.Spawner.http_timeout = 300
c.Spawner.args = ["--LabApp.expose_app_in_browser=True",
                  "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
                  "--LabApp.app_settings_dir=" + {settings!r}, "--allow-root"]
async def copy(spawner):
    home = os.path.join({homes!r}, spawner.user.name)
    copying = await asyncio.create_subprocess_exec(
        sys.executable, "-m", "gearlab", "copy", "--folder", home + "/gearlab-workbook",
        env=dict(os.environ, HOME=home))
    if await copying.wait():
        raise RuntimeError("the workbook of " + spawner.user.name + " could not be copied")
c.Spawner.pre_spawn_hook = copy
"""
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--mute-audio"]
LESSON = "gearlab-workbook/01_teeth_and_diameter.ipynb"
RUN_ALL = "() => { jupyterapp.commands.execute('notebook:run-all-cells') }"
IDLE = """() => { const panel = window.jupyterapp?.shell.currentWidget;
    return panel?.sessionContext?.session?.kernel?.status === 'idle' && panel.content.widgets.some(
        cell => cell.model.type === 'code' && cell.model.executionCount) &&
        !panel.content.widgets.some(cell => cell.model.type === 'code' && cell.prompt === '*') }"""


def free_port() -> int:
    with socket.socket() as place:
        place.bind(("127.0.0.1", 0))
        return place.getsockname()[1]


def set_apart() -> bool:
    """Leave the network but for the loopback, and make the package read-only; whether it was done."""
    package = str(Path(gearlab.__file__).parent)
    if not hasattr(os, "geteuid") or os.geteuid() != 0 or not shutil.which("unshare"):
        return False
    if "GEARLAB_HUB_APART" not in os.environ:
        if subprocess.run(["unshare", "-n", "-m", "true"], check=False).returncode:
            return False
        os.environ["GEARLAB_HUB_APART"] = "1"
        os.execvp("unshare", ["unshare", "-n", "-m", sys.executable, *sys.argv])
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as any_socket:  # the loopback: up
        fcntl.ioctl(any_socket, 0x8914, struct.pack("16sh", b"lo", 0x41))
    for how in (["--bind", package], ["-o", "remount,ro,bind"]):
        subprocess.run(["mount", *how, package], check=True)
    return not os.access(package, os.W_OK)


def alone(process: psutil.Process) -> float:
    """Memory that a process takes for itself, its share of what is shared included [MB]."""
    try:
        return process.memory_full_info().pss / 1e6
    except (psutil.Error, AttributeError):
        return process.memory_info().rss / 1e6


class Class:
    """A course with its class, each with a home and a hand-out in it."""

    def __init__(self, folder: Path, count: int):
        self.names = [f"bench{i:02d}" for i in range(1, count + 1)]
        self.homes = folder / "homes"
        (folder / "class.csv").write_text("id,name\n" + "".join(f"{name},{name}\n" for name in self.names))
        self.set_file = write_course(folder / "exercises")
        self.key, self.roster = make_key(folder / "course.key"), read_roster(folder / "class.csv")
        hand_out(self.set_file, self.roster, self.key, folder / "handed-out")
        maker = SheetMaker(edition_of(self.set_file), self.key)
        self.set = maker.set.name
        self.answers = {}
        for student in self.roster:
            self.answers[student.id] = right_answers(maker.sheet(student, maker.tasks(student.id)))
            home = self.homes / student.id
            home.mkdir(parents=True)
            shutil.copy(folder / "handed-out" / "notebooks" / f"{self.set}_{student.id}.ipynb", home)


class Student:
    """One user in a browser of their own."""

    def __init__(self, name: str, browser, url: str, group: Class):
        self.name, self.browser, self.url, self.group = name, browser, url, group
        self.times: dict[str, float] = {}

    async def step(self, what: str, act) -> None:
        begun = time.monotonic()
        await act
        self.times[what] = time.monotonic() - begun

    async def work(self) -> None:
        context = await self.browser.new_context(viewport={"width": 1366, "height": 768})
        self.page = await context.new_page()
        self.page.set_default_timeout(300_000)
        await self.step("log in, server and copy there", self.log_in())
        await self.step("lesson open", self.open(LESSON))
        await self.step("lesson run, explorer turning", self.run_lesson())
        await self.step("hand-out open", self.open(f"{self.group.set}_{self.name}.ipynb"))
        await self.step("answered and saved", self.answer())

    async def log_in(self) -> None:
        await self.page.goto(f"{self.url}/hub/login")
        await self.page.fill("#username_input", self.name)
        await self.page.fill("#password_input", "greenhouse")
        await self.page.click("#login_submit")
        await self.page.wait_for_function("() => window.jupyterapp?.shell")

    async def open(self, path: str) -> None:
        await self.page.goto(f"{self.url}/user/{self.name}/lab/tree/{path}?reset")
        await self.page.wait_for_function(
            "() => window.jupyterapp?.shell.currentWidget?.sessionContext?.session?.kernel?.status === 'idle'"
        )

    async def run_lesson(self) -> None:
        await self.page.evaluate(RUN_ALL)
        await self.page.locator(".gl .gl-turns").first.wait_for()
        await self.page.wait_for_function(IDLE)

    async def answer(self) -> None:
        await self.page.evaluate(RUN_ALL)
        boxes = self.page.locator(".gearlab-box")
        answers = self.group.answers[self.name]
        await boxes.nth(len(answers) - 1).wait_for()
        for number, fields in enumerate(answers.values()):
            box = boxes.nth(number)
            for field, text in fields.items():
                place = box.locator(f"[data-field='{field}']")
                kind = await place.first.get_attribute("type")
                if kind in ("radio", "checkbox"):
                    for letter in text.replace(",", " ").split():
                        await box.locator(f"[data-field='{field}'][value='{letter}']").check()
                else:
                    await place.first.fill(text)
                    await box.get_by_text("✓ saved").first.wait_for()


async def class_at_work(group: Class, url: str, executable: str | None) -> list[Student]:
    from playwright.async_api import async_playwright

    async with async_playwright() as playwright:
        browser = await playwright.chromium.launch(executable_path=executable, args=ARGUMENTS)
        students = [Student(name, browser, url, group) for name in group.names]
        await asyncio.gather(*(student.work() for student in students))
        await browser.close()
    return students


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    options.add_argument("--users", type=int, default=5)
    options.add_argument("--proxy", default=shutil.which("configurable-http-proxy"))
    wanted = options.parse_args()
    if not wanted.proxy:
        sys.exit("no configurable-http-proxy on the PATH: npm install it in any folder, name it by --proxy")
    apart = set_apart()
    out = Console()
    folder = Path(tempfile.mkdtemp(prefix="hub-"))
    folder.chmod(0o755)
    group = Class(folder, wanted.users)
    (folder / "hub").mkdir()
    port, hub_port, api_port = free_port(), free_port(), free_port()
    from gearlab.course.workbook import SETTINGS as LAB_SETTINGS

    (folder / "jupyterhub_config.py").write_text(
        SETTINGS.format(
            port=port,
            hub_port=hub_port,
            api_port=api_port,
            node=shutil.which("node"),
            proxy=str(Path(wanted.proxy).resolve()),
            homes=str(group.homes),
            settings=str(LAB_SETTINGS),
        )
    )
    log = (folder / "hub" / "log").open("w")
    hub = subprocess.Popen(
        [sys.executable, "-m", "jupyterhub", "-f", str(folder / "jupyterhub_config.py")],
        cwd=folder / "hub",
        env=dict(os.environ, HOME=str(folder / "hub"), PYTHONDONTWRITEBYTECODE="1"),
        stdout=log,
        stderr=subprocess.STDOUT,
        start_new_session=True,
    )
    try:
        url = f"http://127.0.0.1:{port}"
        begun = time.monotonic()
        while True:
            if hub.poll() is not None or time.monotonic() - begun > 120:
                sys.exit("the hub did not start:\n" + (folder / "hub" / "log").read_text()[-3000:])
            with socket.socket() as probe:
                if not probe.connect_ex(("127.0.0.1", port)):
                    break
            time.sleep(0.2)
        executable = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
        students = asyncio.run(class_at_work(group, url, executable))
        users = [
            (process, [child for child in process.children() if "ipykernel" in " ".join(child.cmdline())])
            for process in psutil.Process(hub.pid).children(recursive=True)
            if "jupyterhub.singleuser" in " ".join(process.cmdline())
        ]
        servers = [alone(server) for server, _ in users]
        kernels = [alone(kernel) for _, their in users for kernel in their]
    except BaseException:
        out.print((folder / "hub" / "log").read_text()[-6000:], markup=False)
        raise
    finally:
        os.killpg(hub.pid, signal.SIGTERM)
        hub.wait(30)
    came = folder / "came"
    came.mkdir()
    for home in group.homes.iterdir():
        for file in home.glob(f"HAND-IN_{group.set}_*.json"):
            shutil.copy(file, came)
    done = mark(came, group.set_file, group.roster, group.key, folder / "results")
    table = Table("step", "median s", "longest s")
    for what in students[0].times:
        took = [student.times[what] for student in students]
        table.add_row(what, f"{statistics.median(took):.1f}", f"{max(took):.1f}")
    out.print(f"{wanted.users} users at once on {os.cpu_count()} cores, the browsers beside them")
    out.print(
        "without a network, the package read-only"
        if apart
        else "with the machine's network, the package writable (not root on Linux)"
    )
    out.print(table)
    out.print(
        f"memory: a server {statistics.median(servers):.0f} MB, a kernel {statistics.median(kernels):.0f} MB"
        f" ({len(kernels)} kernels of {len(servers)} users)"
    )
    out.print(
        f"handed in and marked: {done.marked} of {done.students}, {done.points:g} points of"
        f" {done.out_of * done.students:g}"
    )
    shutil.rmtree(folder, ignore_errors=True)
    if done.marked != wanted.users or abs(done.points - done.out_of * done.students) > 1e-6:
        sys.exit("not everybody's right answers came through")


if __name__ == "__main__":
    main()
