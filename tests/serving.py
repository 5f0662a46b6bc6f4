"""A server of the planner's, as its commands start it, and what a browser does to open one of its pages."""

import http.client
import json
import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from uuid import uuid4

from websockets.exceptions import WebSocketException
from websockets.sync.client import connect

PATIENCE = 1800
"""Seconds that an answer may take on a busy machine."""


class Served:
    """A command that serves a house on a free port, until it is killed.

    `urls` are the addresses that it prints, with their keys; `url` is the first of them, `page` that without its key.
    """

    def __init__(self, command: str, house: Path, *arguments: str, **environment: str):
        run = [sys.executable, "-c", "from planner.cli import main; main()", command, str(house), *arguments]
        self.process = subprocess.Popen(
            run if command == "serve" else [*run, "--headless"],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env=os.environ | environment,
            text=True,
        )
        assert self.process.stdout
        self.said: list[str] = []
        while not self.said or "Ctrl-C" not in self.said[-1]:
            line = self.process.stdout.readline()
            if not line:
                _, fault = self.process.communicate()
                raise RuntimeError(f"{command} did not start: {fault}")
            self.said.append(line)
        self.urls = [word for line in self.said for word in line.split() if word.startswith("http")]
        self.url = self.urls[0]
        self.page = self.url.partition("?")[0]

    def kill(self) -> None:
        """End the server as a crash would."""
        self.process.kill()
        self.process.communicate()


def asked(netloc: str, method: str, path: str, **headers: str) -> tuple[int, dict[str, str], bytes]:
    """Ask a server once: status, headers, cookies as a browser would send them back among them, and body."""
    connection = http.client.HTTPConnection(netloc, timeout=PATIENCE)
    try:
        connection.request(method, path, headers={name.replace("_", "-"): value for name, value in headers.items()})
        answer = connection.getresponse()
        given = answer.getheaders()
        cookies = [value.partition(";")[0] for name, value in given if name.lower() == "set-cookie"]
        named = {name.lower(): value for name, value in given}
        return answer.status, named | {"cookies": "; ".join(cookies)}, answer.read()
    finally:
        connection.close()


def come_in(address: str) -> str:
    """What a browser holds once it has opened a page by an address with a key."""
    at = urlsplit(address)
    held = asked(at.netloc, "GET", f"{at.path}?{at.query}")[1]["cookies"]
    status, _, page = asked(at.netloc, "GET", f"{at.path}/", Cookie=held)
    if status != 200 or b"<marimo-" not in page:
        raise RuntimeError(f"{at.path} was answered with {status}")
    return held


def first_run(address: str, held: str) -> Iterator[dict[str, Any]]:
    """What a page is told, message by message, until every cell of its notebook has run once."""
    at = urlsplit(address)
    url = f"ws://{at.netloc}{at.path}/ws?session_id=s_{uuid4().hex[:8]}"
    headers = {"Cookie": held, "Origin": f"http://{at.netloc}"}
    with connect(url, additional_headers=headers, max_size=None, open_timeout=PATIENCE, ping_interval=None) as page:
        for text in page:
            message = json.loads(text)
            yield message
            if message["op"] == "completed-run":
                return


def faults(message: dict[str, Any]) -> list[str]:
    """What a message says went wrong in a cell; a cell that waits for another one is well."""
    output = message.get("data", message).get("output") or {}
    if output.get("channel") != "marimo-error":
        return []
    return [str(error) for error in output["data"] if error.get("type") != "ancestor-stopped"]


CONTROL = re.compile(r"<marimo-ui-element object-id='([^']+)'[^>]*><marimo-[a-z-]+ [^>]*?data-label='([^']*)'")
"""A control among what a cell shows: its name, and its label as JSON in HTML."""


TABS = re.compile(r"<marimo-ui-element object-id='([^']+)'[^>]*><marimo-tabs ")
"""The tabs of a page: their name."""

NARROW = re.compile(r"class=\"pl-narrow\"[^<]*<marimo-ui-element object-id='([^']+)'[^>]*><marimo-lazy ")
"""What is seen on a narrow screen alone: its name."""


class Page:
    """A page of an app as a program reads it: what its cells show, and what can be set in it by its label.

    Raises
    ------
    OSError, RuntimeError, EOFError : the server does not answer, or has ended.
    """

    def __init__(self, address: str):
        at = urlsplit(address)
        self._at, self._shown, self._held = at, dict[str, str](), come_in(address)
        self._name = f"s_{uuid4().hex[:8]}"
        self.come_back()
        while self._hear(PATIENCE) != "completed-run":
            pass

    def come_back(self) -> None:
        """Be connected to the page's session, the first time or again, with nothing shown yet."""
        self._shown.clear()
        headers = {"Cookie": self._held, "Origin": f"http://{self._at.netloc}"}
        url = f"ws://{self._at.netloc}{self._at.path}/ws?session_id={self._name}"
        try:
            self._socket = connect(
                url, additional_headers=headers, max_size=None, open_timeout=PATIENCE, ping_interval=None
            )
        except WebSocketException as error:
            raise EOFError(str(error)) from error

    def leave(self) -> None:
        """Be closed, as somebody closes a page: its session waits for it a while."""
        self._socket.close()

    def until(self, holds: Callable[[str], bool], seconds: float = PATIENCE) -> None:
        """Wait until what is shown is as asked for."""
        end = time.monotonic() + seconds
        while not holds("".join(self._shown.values())):
            self._hear(end - time.monotonic())

    def set(self, label: str, value: object) -> None:
        """Set the control with a label; choose from a list by `choose`."""
        self._set(self.control(label), value)

    def open_tab(self, number: int) -> None:
        """Open a tab, by its number from 0."""
        self._set(self.named(TABS), str(number))

    def narrow(self) -> None:
        """Be on a narrow screen from now on, where what is drawn for that alone is seen."""
        self._set(self.named(NARROW), True)

    def named(self, kind: re.Pattern[str]) -> str:
        """The name of the one control of a kind."""
        (name,) = {str(found) for shown in self._shown.values() for found in kind.findall(shown)}
        return name

    def _set(self, name: str, value: object) -> None:
        body = json.dumps({"objectIds": [name], "values": [value]})
        headers = {"Cookie": self._held, "Origin": f"http://{self._at.netloc}", "Marimo-Session-Id": self._name}
        connection = http.client.HTTPConnection(self._at.netloc, timeout=PATIENCE)
        try:
            way = f"{self._at.path}/api/kernel/set_ui_element_value"
            connection.request("POST", way, body, headers | {"Content-Type": "application/json"})
            status = connection.getresponse().status
        except http.client.HTTPException as error:
            raise EOFError(str(error)) from error
        finally:
            connection.close()
        if status != 200:
            raise RuntimeError(f"{name} was answered with {status}")

    def at_once(self, *told: tuple[str, object]) -> None:
        """Set controls by their labels as somebody does who waits for nothing: all that are on the page now."""
        found = [(self.control(label), value) for label, value in told]
        for name, value in found:
            self._set(name, value)

    def choose(self, label: str, option: str) -> None:
        """Choose from a list."""
        self.set(label, [option])

    def press(self, label: str) -> None:
        """Press a button."""
        self.set(label, 1)

    def control(self, label: str) -> str:
        """The name of the control with a label."""
        for shown in self._shown.values():
            for name, labelled in CONTROL.findall(shown):
                if f">{label}<" in (json.loads(unescape(labelled)) or ""):
                    return str(name)
        raise RuntimeError(f"nothing is labelled {label}")

    def _hear(self, seconds: float) -> str:
        try:
            message = json.loads(self._socket.recv(timeout=max(seconds, 0)))
        except WebSocketException as error:
            raise EOFError(str(error)) from error
        told = message.get("data", message)
        if message["op"] == "cell-op" and (output := told.get("output")):
            self._shown[told["cell_id"]] = str(output["data"])
        return str(message["op"])
