"""A server of the planner's, as its commands start it, and what a browser does to open one of its pages."""

import http.client
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from uuid import uuid4

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
    with connect(url, additional_headers=headers, max_size=None, open_timeout=PATIENCE) as page:
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
