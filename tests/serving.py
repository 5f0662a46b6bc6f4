"""A server of the planner's, as its commands start it."""

import os
import subprocess
import sys
from pathlib import Path


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
