"""Ctrl-C and a polite kill: raised where they arrive, held back where something must be whole.

Libraries swallow KeyboardInterrupt (WeasyPrint, at each drawing of a card), and then half a card passes for a card. So
the signal is held back while an output is made or a build changes places, and what was swallowed elsewhere is
remembered by the handler itself.
"""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

SIGNALS = (signal.SIGINT, signal.SIGTERM)
STOPPED = 130  # what a shell calls a program that was stopped by Ctrl-C; a polite kill gives the same


class Stop:
    """What the command line does on SIGINT and SIGTERM: remember it and raise KeyboardInterrupt; once over, nothing."""

    def __init__(self) -> None:
        self.asked = False

    def listen(self) -> None:
        """Take both signals from now on, but not one that the caller has set to be ignored, as nohup does."""
        if threading.current_thread() is threading.main_thread():
            for number in SIGNALS:
                if signal.getsignal(number) is not signal.SIG_IGN:
                    signal.signal(number, self)

    def __call__(self, _number: int, _frame: object) -> None:
        """Answer the signal."""
        self.asked = True
        raise KeyboardInterrupt

    def end(self) -> None:
        """Take no more signals: all is written and printed, and the exit code says how it went.

        Python gives every handler but "ignore" back as it ends, and would die of what arrives then. It also would where
        an interrupt was raised in a text that `exec` ran, as dataclasses do; running another one makes it forget that.
        """
        for number in SIGNALS:
            if signal.getsignal(number) is self:
                signal.signal(number, signal.SIG_IGN)
        exec("")  # noqa: S102 - no text at all


@contextmanager
def held_back() -> Iterator[Callable[[], None]]:
    """Let both signals wait until the block is left, then answer them as before.

    The block calls what it is given wherever it can stop; KeyboardInterrupt is raised there if a signal waits, or came
    earlier and was swallowed.
    """
    if threading.current_thread() is not threading.main_thread():  # signals are the main thread's
        yield lambda: None
        return
    before = {number: signal.getsignal(number) for number in SIGNALS}
    waiting: list[int] = []

    def stop() -> None:
        if waiting or any(isinstance(handler, Stop) and handler.asked for handler in before.values()):
            raise KeyboardInterrupt

    try:
        for number, handler in before.items():
            if handler not in {signal.SIG_IGN, None}:  # None: a handler that is not Python's
                signal.signal(number, lambda number, _frame: waiting.append(number))
        yield stop
    finally:
        for number, handler in before.items():
            if handler not in {signal.SIG_IGN, None}:
                signal.signal(number, handler)
        if waiting:
            signal.raise_signal(waiting[0])
