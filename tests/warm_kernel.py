"""Kernels of a test run, forked from one process that has imported the libraries they need.

A kernel spends most of its time on importing IPython, sympy, matplotlib and gearlab: seconds of processor
for each notebook and each test in JupyterLab. Here one process imports them once, and uses none of them;
every kernel is a fork of it: a process of its own, in which no name and no number is left over from another
notebook. (What gearlab does when it is imported into a shell that runs, which is to offer its words when Tab
is pressed, is not done then: `tests/test_completing.py` starts an IPython of its own.)

``warm_kernel.py FOLDER CONNECTION_FILE`` is what the kernel specification of the run starts. It asks the
process that forks for a kernel, starting that process first where there is none, hands signals on, and ends
with the kernel; where it is killed, the kernel ends too.
"""

import gc
import importlib
import json
import os
import signal
import socket
import struct
import subprocess
import sys
import threading
import warnings
from pathlib import Path

# Without what looks for a running kernel when it is imported.
LIBRARIES = (
    "ipykernel.kernelapp",
    "ipykernel.ipkernel",
    "matplotlib.figure",
    "matplotlib.backends.backend_agg",
    "sympy",
    "sympy.codegen.ast",  # what sympy imports only when formulas are printed and shapes are summed up
    "sympy.sets.setexpr",
    "sympy.tensor.tensor",
    "shapely",
    "pydantic",
    "pydantic.json_schema",  # before a model is made
    "pydantic.main",
    "anywidget",
    "jinja2",
    "statistics",
    "tomllib",
    "xml.sax.saxutils",
    "PIL.PngImagePlugin",
)
LENGTH = struct.Struct("!Q")


def announce(folder: Path) -> bool:
    """Write a kernel "python3" into a folder for ``JUPYTER_PATH``; False where nothing can fork."""
    if not hasattr(os, "fork"):
        return False
    specification = folder / "kernels" / "python3"
    specification.mkdir(parents=True)
    command = [sys.executable, "-S", str(Path(__file__).resolve()), str(folder), "{connection_file}"]
    told = {"argv": command, "display_name": "Python 3", "language": "python"}
    (specification / "kernel.json").write_text(json.dumps(told), encoding="utf-8")
    (folder / "run.pid").write_text(str(os.getpid()), encoding="utf-8")
    return True


def ask(folder: Path, connection_file: str) -> None:
    """Be the process that the kernel's manager knows, for as long as the kernel lives."""
    line = _connected(folder)
    request = json.dumps(
        {"connection_file": connection_file, "folder": os.getcwd(), "environment": {**os.environ}}
    )
    socket.send_fds(line, [LENGTH.pack(len(request.encode()))], [1, 2])
    line.sendall(request.encode())
    (kernel,) = LENGTH.unpack(_exactly(line, LENGTH.size))
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda number, frame: os.kill(kernel, number))
    line.recv(1)  # until the kernel has ended


def _connected(folder: Path) -> socket.socket:
    """A line to the process that forks, which is started by the first that asks."""
    import fcntl  # there is none where nothing can fork

    with (folder / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        line, door = socket.socket(socket.AF_UNIX), str(folder / "door")
        try:
            line.connect(door)
        except OSError:
            with socket.socket(socket.AF_UNIX) as listening:
                Path(door).unlink(missing_ok=True)
                listening.bind(door)
                listening.listen(16)
                subprocess.Popen(
                    [sys.executable, __file__, str(folder), f"--fork={listening.fileno()}"],
                    pass_fds=[listening.fileno()],
                    env={name: value for name, value in os.environ.items() if name != "PYTHONWARNINGS"},
                    stdin=subprocess.DEVNULL,
                    stdout=subprocess.DEVNULL,
                    stderr=(folder / "log").open("w"),
                    start_new_session=True,
                )
            line.connect(door)
        return line


def _exactly(line: socket.socket, length: int) -> bytes:
    data = b""
    while len(data) < length:
        more = line.recv(length - len(data))
        if not more:
            raise SystemExit("the process that forks the kernels has ended; its log lies beside its door")
        data += more
    return data


def fork_on(folder: Path, listening: socket.socket) -> None:
    """Import the libraries, and fork a kernel for everyone who asks until the run is over.

    Returns in each kernel when that has ended, so that it ends as any Python does.
    """
    sys.path.remove(str(Path(__file__).resolve().parent))
    os.environ["MPLBACKEND"] = "module://matplotlib_inline.backend_inline"  # as a kernel sets it
    for name in LIBRARIES:
        importlib.import_module(name)
    # what the first run has compiled, the next ones read
    sys.pycache_prefix, sys.dont_write_bytecode = str(folder / "compiled"), False
    with warnings.catch_warnings():
        warnings.simplefilter("error")  # as in the notebooks: a warning of gearlab's own stops the run
        importlib.import_module("gearlab.widgets")
    gc.collect()
    gc.freeze()
    listening.settimeout(1.0)
    while _run_is_on(folder):
        try:
            line, _ = listening.accept()
        except TimeoutError:
            continue
        finally:
            _reap()
        header, outputs, _, _ = socket.recv_fds(line, LENGTH.size, 2)
        request = json.loads(_exactly(line, *LENGTH.unpack(header)))
        if os.fork() == 0:
            listening.close()
            be_kernel(request, line, outputs, folder)
            return
        for descriptor in outputs:
            os.close(descriptor)
        line.close()


def _run_is_on(folder: Path) -> bool:
    try:
        os.kill(int((folder / "run.pid").read_text(encoding="utf-8")), 0)
    except (OSError, ValueError):
        return False
    return True


def _reap() -> None:
    try:
        while os.waitpid(-1, os.WNOHANG)[0]:
            pass
    except ChildProcessError:
        pass


def be_kernel(request: dict, line: socket.socket, outputs: list[int], folder: Path) -> None:
    """Run a kernel in this process, a fork, with everything of the one who asked for it."""
    os.setsid()
    for number, descriptor in enumerate(outputs, start=1):
        os.dup2(descriptor, number)
    os.chdir(request["folder"])
    os.environ.clear()
    os.environ.update(request["environment"])
    wanted = os.environ.get("PYTHONPATH", "").split(os.pathsep)
    sys.path[:0] = [entry for entry in wanted if entry and entry not in sys.path]
    if action := os.environ.get("PYTHONWARNINGS"):
        warnings.simplefilter(action)
    sys.argv = ["ipykernel_launcher", "-f", request["connection_file"]]
    line.settimeout(None)
    line.sendall(LENGTH.pack(os.getpid()))
    threading.Thread(target=lambda: (line.recv(1), os._exit(1)), daemon=True).start()
    importlib.import_module("ipykernel.kernelapp").launch_new_instance()


if __name__ == "__main__":
    place, what = Path(sys.argv[1]), sys.argv[2]
    if what.startswith("--fork="):
        fork_on(place, socket.socket(fileno=int(what.removeprefix("--fork="))))
    else:
        ask(place, what)
