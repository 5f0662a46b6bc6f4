"""Alternatives that are taken off while the page goes on being used."""

import asyncio
from collections.abc import Callable, Sequence
from contextlib import suppress
from threading import Thread

from planner.planning.answer import Plan


class Costing:
    """Takes plans off in a thread of its own, so that a page waits for none.

    Parameters
    ----------
    tell : called on the page's own loop when what was asked for is costed.
    by_tier : whether what each tier of each room would cost is worked out with it.
    """

    def __init__(self, tell: Callable[[object], None], *, by_tier: bool = False):
        self._tell, self._by_tier = tell, by_tier
        self._at_work: Thread | None = None

    def is_done(self, plans: Sequence[Plan]) -> bool:
        """Whether all of them are costed; where they are not, it is begun, or goes on, and `tell` is called after it.

        Where nothing comes afterwards, as in a script, they are costed when this returns.
        """
        waiting = [planned for planned in plans if not planned.is_costed]
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self._cost(waiting)
            return True
        if waiting and not (self._at_work and self._at_work.is_alive()):
            self._at_work = Thread(target=self._cost_aside, args=(waiting, loop), daemon=True)
            self._at_work.start()
        return not waiting

    def _cost_aside(self, plans: Sequence[Plan], loop: asyncio.AbstractEventLoop) -> None:
        self._cost(plans)
        with suppress(RuntimeError):  # the page is closed
            loop.call_soon_threadsafe(self._told)

    def _told(self) -> None:
        if self._at_work:
            self._at_work.join()
        self._tell(object())

    def _cost(self, plans: Sequence[Plan]) -> None:
        for planned in plans:
            _ = self._by_tier and planned.tier_money
            _ = planned.money
