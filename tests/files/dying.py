"""Processes that end, and calls of the system that fail, at any moment that is asked for."""

import os
import signal
import sys
from collections.abc import Callable
from io import BytesIO, StringIO
from types import BuiltinFunctionType
from typing import Any

SYSTEM = ("posix", "_io", "fcntl")
"""The modules whose functions call the system."""

RELEASING = ("close", "flock", "__exit__", "closed", "fileno", "fspath")
"""Calls that a system makes for the dead, or that cannot be refused."""

Act = Callable[[], object]


class Moments:
    """Counts the calls of the system, and does something at one of them, before it is made or after.

    Parameters
    ----------
    moment : the number of the call from 0, twice over: even ones before it, odd ones after.
    strike : what is done then.
    """

    def __init__(self, moment: int | None, strike: Act):
        self.moment, self.strike, self.passed = moment, strike, 0

    def __call__(self, frame: object, event: str, what: Any) -> None:
        if event not in ("c_call", "c_return") or not isinstance(what, BuiltinFunctionType):
            return
        owner = what.__module__ or type(what.__self__).__module__
        if owner not in SYSTEM or what.__name__ in RELEASING or isinstance(what.__self__, StringIO | BytesIO):
            return
        if self.passed == self.moment:
            self.passed += 1
            self.strike()
        self.passed += 1


def watched(act: Act, moments: Moments) -> None:
    """Do something with its calls counted."""
    sys.setprofile(moments)
    try:
        act()
    finally:
        sys.setprofile(None)


def moments(act: Act) -> int:
    """How many moments there are in an act, which is done: two for each call of the system."""
    counted = Moments(None, lambda: None)
    watched(act, counted)
    return counted.passed


def killed_at(moment: int, act: Act) -> bool:
    """Do something in a process that is killed at a moment; whether it came to that moment."""
    child = os.fork()
    if not child:
        try:
            watched(act, Moments(moment, lambda: os.kill(os.getpid(), signal.SIGKILL)))
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def failing_at(moment: int, act: Act, number: int) -> None:
    """Do something with one call of the system refused with an error of that number."""

    def refuse() -> None:
        raise OSError(number, os.strerror(number))

    watched(act, Moments(moment, refuse))
