"""Work spread over all cores of the computer; one item that breaks its process stops no other."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from itertools import islice
from multiprocessing.connection import wait as wait_for
from typing import Any, Generic, TypeVar

Item = TypeVar("Item")
Result = TypeVar("Result")
_AHEAD = 4  # items handed out for each process: none waits, and a stop is quick
_MOST = 60  # processes that Windows can wait for


def spread(
    work: Callable[[Item], Result],
    items: Iterable[Item],
    lost: Callable[[Item], Result],
    start: Callable[..., None],
    given: Sequence[Any] = (),
) -> Iterator[tuple[Item, Result]]:
    """Do the same work with each item, on every core; results come as they are ready.

    Args:
        work: done in another process: a function of a module. It takes and gives what can be
            pickled, and raises nothing.
        items: one after another; only a few are taken ahead.
        lost: what comes of an item whose process ended before its work was done, even alone.
        start: called once in each process; raises nothing.
        given: what it is called with; can be pickled.
    """
    left = iter(items)
    while True:
        round_ = _Round(work, start, given)
        yield from round_.results(left)
        if not round_.undone:
            return
        for item in round_.undone:  # one of these ended its process: each is tried alone
            alone = _Round(work, start, given)
            yield from alone.results(iter([item]))
            yield from ((one, lost(one)) for one in alone.undone)


class _Round(Generic[Item, Result]):
    """Work until it is done, or until a process ends that should not have.

    ``undone`` are the items that were handed out then, and came to nothing.
    """

    def __init__(
        self, work: Callable[[Item], Result], start: Callable[..., None], given: Sequence[Any]
    ) -> None:
        self._work, self._start, self._given = work, start, given
        self.undone: list[Item] = []

    def results(self, items: Iterator[Item]) -> Iterator[tuple[Item, Result]]:
        cores = _cores()
        first = list(islice(items, cores * _AHEAD))
        if not first:
            return
        pool = ProcessPoolExecutor(
            min(cores, len(first)), multiprocessing.get_context("spawn"), _begin,
            (self._start, self._given),
        )  # fmt: skip
        running: dict[Future[Result], Item] = {}
        try:
            with _no_stop():  # what is begun now is not stopped by hand, and ends by itself
                for item in first:
                    self._hand_out(pool, item, running)
            while running and not self.undone:
                done, _ = wait(running, return_when=FIRST_COMPLETED)
                for future in done:
                    item = running.pop(future)
                    if isinstance(future.exception(), BrokenProcessPool):
                        self.undone.append(item)
                        continue
                    yield item, future.result()
                    for following in islice(items, 1):
                        self._hand_out(pool, following, running)
            self.undone += running.values()
        finally:
            pool.shutdown(wait=not running, cancel_futures=True)

    def _hand_out(
        self, pool: ProcessPoolExecutor, item: Item, running: dict[Future[Result], Item]
    ) -> None:
        try:
            running[pool.submit(self._work, item)] = item
        except BrokenProcessPool:
            self.undone.append(item)


@contextmanager
def _no_stop() -> Iterator[None]:
    """Take no stop by hand; processes that are begun meanwhile never do."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _begin(start: Callable[..., None], given: Sequence[Any]) -> None:
    """Make a process ready: it ends with the program that began it, however that ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # on Windows that is not handed down
    threading.Thread(target=_end_with_parent, daemon=True).start()
    start(*given)


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        wait_for([parent.sentinel])
        os._exit(1)


def _cores() -> int:
    """Cores that this program may use."""
    usable = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return min(usable or 1, _MOST)
