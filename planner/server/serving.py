"""All of the apps on one house, behind their doors, at one port."""

import gc
import importlib.util
import ipaddress
import mimetypes
import re
import socket
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import redirect_stderr, suppress
from pathlib import Path

import marimo
import uvicorn
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.types import ASGIApp

from planner.apps import houses
from planner.bundle import bundled
from planner.files.problems import HouseFault, Problem, raise_errors, reason_of
from planner.server.connections import LONGEST_FRAME, Connection, Socket, most_connections
from planner.server.doors import DOORS, KEY, Door, Doors
from planner.server.in_order import do_in_order
from planner.server.in_turn import parse_in_turn
from planner.server.installed import look_up_once
from planner.server.keys import Lock
from planner.server.made_files import MadeFiles
from planner.server.mishaps import Lines, Mishaps, quieten
from planner.server.policy import Policy
from planner.server.sessions import LASTING, MOST, Sessions
from planner.stopping import AtOnce
from planner.units import quoted

LOOPBACK = "127.0.0.1"
LOCAL_NAMES = ("127.0.0.1", "localhost", "[::1]")
"""The names by which a browser on this machine knows it."""

EVERY = ("0.0.0.0", "::")
"""What stands for every address of a machine."""

_HOST = re.compile(r"(?!\.)[a-z\d.-]*[a-z\d]|\[[a-f\d:.]+\]", re.IGNORECASE)
"""A name, or an address of either kind, as it stands in an address for a browser; no port, and no pattern of names."""

TURN = 0.0005
"""So many seconds a thread that draws may hold up the one that sends [s], so that a browser draws the first chart while
the next is being made; the interpreter's own turn is ten times as long."""

WAITING = 128
"""Connections that the system holds until the server takes them, all of them at once."""

LEAVING = 3
"""Seconds that browsers have for reading what they were being told when the server ends."""

Ready = Callable[[Mapping[Door, str]], None]
"""Told the address of each door, its key in it, once it can be opened."""


def serve(
    house: Path,
    doors: Sequence[Door] = DOORS,
    alternatives: Iterable[str] = (),
    *,
    port: int = 0,
    bind: str = LOOPBACK,
    names: Sequence[str] = (),
    ready: Ready,
) -> None:
    """Serve apps on a house until the process is told to end.

    Parameters
    ----------
    house : the folder that every app shows; no page can choose another.
    doors : those that there are.
    alternatives : what the pages begin with, by name.
    port : 0 takes a free one.
    bind : the address to listen at.
    names : by which browsers know this machine, beside `bind` and, on the machine itself, its local names; the first
        stands in the addresses. A request by another name is refused.
    ready : told the addresses.

    Raises
    ------
    HouseFault : the port cannot be had, a name is none, or nothing says by what name the machine is known.
    """
    known = hosts(bind, names)
    told = redirect_stderr(Lines(sys.stderr))
    with suppress(KeyboardInterrupt), told, listening(bind, port) as listener:
        port = listener.getsockname()[1]
        locks = {door: Lock(f"planner-{door.role}-{port}") for door in doors}
        ways = {door.app: f"/{door.app}?{KEY}={lock.key}" for door, lock in locks.items()}
        houses.give(houses.Given(house.resolve(), tuple(alternatives), ways))
        with AtOnce():
            app = guarded(apps(doors), locks, known)
        server = uvicorn.Server(configured(app))
        ready({door: f"http://{known[0]}:{port}{ways[door.app]}" for door in locks})
        server.run([listener])


def configured(app: ASGIApp) -> uvicorn.Config:
    """How the apps are served: with what patience, to how many, and with nothing told on the terminal."""
    quieten()
    return uvicorn.Config(
        app,
        http=Connection,
        ws=Socket,
        lifespan="off",
        ws_per_message_deflate=False,
        ws_max_size=LONGEST_FRAME,
        limit_concurrency=most_connections(),
        backlog=WAITING,
        timeout_graceful_shutdown=LEAVING,
        log_level="critical",
        server_header=False,
    )


def apps(doors: Iterable[Door]) -> ASGIApp:
    """The apps of some doors, each at its path, with nothing before them."""
    parse_in_turn()
    do_in_order()
    look_up_once()
    mimetypes.add_type("text/javascript", ".js")  # some systems know it by another name, and browsers obey that
    builder = marimo.create_asgi_app(quiet=True, include_code=False, session_ttl=LASTING)
    for door in doors:
        notebook = bundled("notebooks") / f"{door.app}.py"
        _load(notebook)
        builder = builder.with_app(path=f"/{door.app}", root=str(notebook))
    sys.setswitchinterval(TURN)
    gc.freeze()  # what is imported lasts as long as the process: it is not looked through for garbage again and again
    return MadeFiles(builder.build())


def guarded(app: ASGIApp, locks: Mapping[Door, Lock], hosts: Sequence[str], most: int = MOST) -> ASGIApp:
    """Apps behind their doors, for browsers that know this machine by one of the `hosts`.

    `most` is how many sessions of each app there may be at a time.
    """
    doors = Doors(app, locks, {door: Sessions(most) for door in locks})
    known = TrustedHostMiddleware(doors, hosts, www_redirect=False)
    return Mishaps(Policy(known))


def is_loopback(bind: str) -> bool:
    """Whether only this machine can reach an address.

    >>> is_loopback("127.0.0.1"), is_loopback("localhost"), is_loopback("0.0.0.0")
    (True, True, False)
    """
    try:
        return ipaddress.ip_address(bind).is_loopback
    except ValueError:
        return bind == "localhost"


def hosts(bind: str, names: Sequence[str]) -> list[str]:
    """The names by which browsers may ask for the machine, the one for the addresses first.

    >>> hosts("127.0.0.1", []), hosts("0.0.0.0", ["plans.example"])
    (['127.0.0.1', 'localhost', '[::1]'], ['plans.example', '127.0.0.1', 'localhost', '[::1]'])
    """
    own = [] if bind in EVERY else [f"[{bind}]" if ":" in bind else bind]
    raise_errors(_host_faults("--bind", own) + _host_faults("--name", names))
    if not own and not names:
        message = f"{bind} is every address of this machine, and none says how browsers know it"
        raise HouseFault([Problem("--bind", None, None, message, "give the name in their address, with --name")])
    return list(dict.fromkeys([*names, *own, *LOCAL_NAMES]))


def _host_faults(option: str, hosts: Iterable[str]) -> list[Problem]:
    """What of some names cannot stand in an address, or stands for more than one machine."""
    remedy = "write one name or number alone, as plans.example or 192.0.2.1"
    wrong = [host for host in hosts if not _HOST.fullmatch(host)]
    return [Problem(option, None, None, f"{quoted(host)} is no name of a machine", remedy) for host in wrong]


def listening(bind: str, port: int) -> socket.socket:
    """A socket that listens at an address; raises HouseFault where it cannot be had.

    It names its protocol, by which asyncio knows that what is written to its connections is to leave at once: else a
    small answer waits some 40 ms for the browser to acknowledge the one before.
    """
    family = socket.AF_INET6 if ":" in bind else socket.AF_INET
    listener = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((bind, port))
        listener.listen()
    except OSError as error:
        listener.close()
        message = f"{port or 'no port'} at {bind} cannot be had ({reason_of(error)})"
        raise HouseFault([Problem("--port", None, None, message, "choose another, or leave it out")]) from error
    return listener


def _load(notebook: Path) -> None:
    """Import once what a notebook imports, before its sessions do so at the same moment."""
    spec = importlib.util.spec_from_file_location(f"_notebook_{notebook.stem}", notebook)
    assert spec is not None and spec.loader is not None
    spec.loader.exec_module(importlib.util.module_from_spec(spec))
