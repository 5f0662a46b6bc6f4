"""Keys: one a door, in the address that the command prints; and what a browser holds once it has come in.

A browser that shows a door's key gets two cookies. The visitor's is a secret of the browser's own: it opens nothing,
but a year later it still tells that it is the same browser. The pass holds for one door of one server: the visitor's
secret, signed with the door's key. So a pass is worth nothing in another browser, at another door, or once the server
has ended.
"""

import hashlib
import hmac
import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field

VISITOR = "planner-visitor"
"""The cookie with the visitor's secret; the same at every port, which changes from day to day."""

YEAR = 365 * 24 * 60 * 60

_SECRET = re.compile(r"[\w-]{43}")


def new_secret() -> str:
    """256 bits that nobody guesses, as text."""
    return secrets.token_urlsafe(32)


def mark(visitor: str) -> str:
    """What a visitor is known by on the disk; the secret cannot be had from it.

    >>> len(mark("x" * 43))
    16
    """
    return hashlib.sha256(visitor.encode()).hexdigest()[:16]


@dataclass(frozen=True)
class Lock:
    """The lock of one door.

    `name` is that of the cookie with the pass, which is the door's and the server's own.
    """

    name: str
    key: str = field(default_factory=new_secret, repr=False)

    def fits(self, key: str) -> bool:
        """Whether it is the key."""
        return hmac.compare_digest(key.encode(), self.key.encode())

    def pass_for(self, visitor: str) -> str:
        """The pass of one visitor."""
        return hmac.new(self.key.encode(), visitor.encode(), hashlib.sha256).hexdigest()

    def visitor(self, cookies: Mapping[str, str]) -> str | None:
        """The visitor whose pass is among a browser's cookies."""
        visitor, shown = cookies.get(VISITOR, ""), cookies.get(self.name, "")
        return visitor if hmac.compare_digest(shown.encode(), self.pass_for(visitor).encode()) else None


def visitor_among(cookies: Mapping[str, str]) -> str:
    """The visitor that a browser has been before, or a new one."""
    visitor = cookies.get(VISITOR, "")
    return visitor if _SECRET.fullmatch(visitor) else new_secret()
