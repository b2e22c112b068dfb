"""Work shared out: blocks to one process, all cores or a cluster of machines, and their results in order."""

from __future__ import annotations

import os
import sys
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from functools import partial
from multiprocessing import forkserver, get_all_start_methods, get_context
from multiprocessing.context import BaseContext
from types import MappingProxyType
from typing import TypeVar

Block = TypeVar("Block")
Done = TypeVar("Done")

AHEAD = 3  # blocks under way for each worker: enough that none waits, few enough that memory stays flat
ANSWERS_WITHIN = 20  # a cluster [s]
TRIES = 3  # workers a block may lose before it is given up


@contextmanager
def workers(
    cores: int = 1, cluster: str | None = None, imports: str = __name__
) -> Iterator[tuple[Executor | None, int]]:
    """An executor and how many workers it has; None for this process alone.

    cores: processes on this machine; 0 is one a core.
    imports: the module where the work is.
    cluster: address of a dask scheduler, such as ``tcp://192.168.1.5:8786``; needs the extra ``cluster``.
    ValueError for a number of cores that is none, or a cluster that does not answer.
    """
    if cluster is not None:
        with _cluster(cluster) as (executor, count):
            yield executor, count
        return
    if not 0 <= cores <= 1024:
        raise ValueError(f"cores {cores}: give 1 to 1024 processes, or 0 for one a core of this machine")
    if not cores:  # those this process may use, where that is told
        cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    if cores == 1:
        yield None, 1
        return
    pool = ProcessPoolExecutor(cores, mp_context=processes(imports))
    try:
        yield pool, cores
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def processes(imports: str, told: Mapping[str, str] = MappingProxyType({})) -> BaseContext:
    """Where the processes of this machine come from; the sooner it is called, the sooner they are ready.

    This process is not forked: that would copy the threads of the screen's clock. Where the system can, a
    server without threads imports a module once, while this process goes on, and is forked for each process
    when the first work comes. It ends with this process.

    imports: the module, where the work is.
    told: to this module by its environment, where the server begins now; in one that runs already it is as
        it was.
    """
    if "forkserver" not in get_all_start_methods():
        return get_context("spawn")
    context = get_context("forkserver")
    context.set_forkserver_preload([imports])
    # The server must find the modules of this process, and none in the folder in which it is started.
    paths = {"PYTHONPATH": os.pathsep.join(sys.path), "PYTHONSAFEPATH": "1", **told}
    before = {name: os.environ.get(name) for name in paths}
    os.environ |= paths
    try:
        forkserver.ensure_running()
    except OSError:  # no room for its socket
        return get_context("spawn")
    finally:
        for name, text in before.items():
            os.environ.pop(name)
            if text is not None:
                os.environ[name] = text
    return context


@contextmanager
def _cluster(address: str) -> Iterator[tuple[Executor, int]]:
    try:
        from distributed import Client
    except ImportError:
        raise ValueError(
            f"cluster {address}: this needs dask's scheduler; pip install 'gearlab[cluster]' here and on"
            " each machine of the cluster"
        ) from None
    try:
        client = Client(address, timeout=ANSWERS_WITHIN, set_as_default=False)
    except (OSError, ValueError, TimeoutError) as error:
        raise ValueError(
            f"cluster {address}: does not answer ({error}); give the address that the scheduler prints, such"
            " as tcp://192.168.1.5:8786"
        ) from None
    try:
        count = sum(client.nthreads().values())
        if not count:
            raise ValueError(f"cluster {address}: has no workers; start one with `dask worker {address}`")
        # not "pure": equal blocks would be taken for one; a block outlives the workers that die with it
        yield client.get_executor(pure=False, retries=TRIES), count
    finally:
        client.close()


def in_order(
    work: Callable[[Block], Done],
    blocks: Iterable[Block],
    executor: Executor | None,
    count: int,
    known: Callable[[Block], Done | None] | None = None,
    keep: Callable[[Block, Done], None] | None = None,
) -> Iterator[tuple[Block, Done]]:
    """Each block with what comes of it, in the order of the blocks; few blocks are held at a time.

    count: workers of the executor [-].
    known: what came of a block before; then it is not worked on again.
    keep: told what came of a block, as soon as it did.
    """
    under_way: deque[tuple[Block, Future[Done]]] = deque()
    try:
        for block in blocks:
            before = known(block) if known else None
            future: Future[Done] = Future()
            if before is not None:
                future.set_result(before)
            elif executor is None:
                future.set_result(done := work(block))
                if keep:
                    keep(block, done)
            else:
                future = executor.submit(work, block)
                if keep:
                    future.add_done_callback(partial(_keep, keep, block))
            under_way.append((block, future))
            while under_way and (len(under_way) >= AHEAD * count or executor is None):
                block, future = under_way.popleft()
                yield block, future.result()
        while under_way:
            block, future = under_way.popleft()
            yield block, future.result()
    except BrokenProcessPool:
        raise ValueError(
            "a process of the marking was ended from outside (is there enough memory?); mark again: what was"
            " done is kept, or use --cores 1"
        ) from None
    finally:
        for _, future in under_way:
            future.cancel()


def _keep(keep: Callable[[Block, Done], None], block: Block, future: Future[Done]) -> None:
    if not future.cancelled() and future.exception() is None:
        keep(block, future.result())
