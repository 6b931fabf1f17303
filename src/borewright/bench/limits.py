"""How often somebody may ask: requests by a bucket an address, a pause after wrong passwords."""

from __future__ import annotations

import time
from collections.abc import Callable

#: A page with all its files is some 60 requests; a hand at work makes a few a second.
BURST, A_SECOND = 900.0, 90.0
#: Wrong passwords from one address before it has to wait, and how long (s).
WRONG_MOST, WAIT_S = 8, 60.0
_MOST_ADDRESSES = 4096


class Limits:
    """Requests and wrong passwords, by the address that they come from."""

    def __init__(
        self,
        *,
        burst: float = BURST,
        a_second: float = A_SECOND,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._burst, self._a_second, self._clock = burst, a_second, clock
        self._left: dict[str, tuple[float, float]] = {}
        self._wrong: dict[str, tuple[int, float]] = {}

    def request(self, address: str) -> bool:
        """Count a request; False once there were too many."""
        now = self._clock()
        left, then = self._left.pop(address, (self._burst, now))
        left = min(self._burst, left + (now - then) * self._a_second)
        allowed = left >= 1
        self._left[address] = (left - 1 if allowed else left, now)
        if len(self._left) > _MOST_ADDRESSES:  # the one that was silent longest goes
            del self._left[next(iter(self._left))]
        return allowed

    def wrong(self, address: str) -> None:
        """Count a wrong password."""
        times, _ = self._wrong.pop(address, (0, 0.0))
        self._wrong[address] = (times + 1, self._clock())
        if len(self._wrong) > _MOST_ADDRESSES:
            del self._wrong[next(iter(self._wrong))]

    def waits(self, address: str) -> bool:
        """Whether an address has to wait before it may try another password."""
        times, then = self._wrong.get(address, (0, 0.0))
        if self._clock() - then > WAIT_S:
            self._wrong.pop(address, None)
            return False
        return times >= WRONG_MOST
