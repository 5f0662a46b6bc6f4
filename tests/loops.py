"""Loops of asyncio in tests: in a test's own thread that of the browser may be running."""

import asyncio
from collections.abc import Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any


def apart(act: Callable[..., Any], *told: Any) -> Any:
    """What comes of an act in a thread in which no loop runs, as in a script."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(act, *told).result()


def run(work: Coroutine[Any, Any, Any]) -> Any:
    """What comes of some work, done in a loop of its own."""
    return apart(asyncio.run, work)
