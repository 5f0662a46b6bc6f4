"""Many pages opened at the same moment, each to the end of its first run: none may fail.

Run it by itself: python -m tests.benchmarks.soak_openings [OPENINGS]. It opens the apps in turn, prints how many came to
their end, how many failed and why, the seconds until the last was there and the server's memory; exits 1 where one
failed.
"""

import asyncio
import http.client
import json
import re
import shutil
import sys
import tempfile
import time
from pathlib import Path
from urllib.parse import urlsplit
from uuid import uuid4

from websockets.asyncio.client import connect

from planner import demo_house
from tests.serving import Served

PATIENCE = 1800
"""Seconds that an opening may take on a busy machine."""

STOPPED = {"ancestor-stopped"}
"""What stands in the place of a cell's output where nothing went wrong: a cell before it has nothing to show."""


def cookies(address: str) -> str:
    """What a browser holds once it has come in."""
    at = urlsplit(address)
    asked = http.client.HTTPConnection(at.netloc, timeout=PATIENCE)
    asked.request("GET", f"{at.path}?{at.query}")
    answer = asked.getresponse()
    held = "; ".join(value.partition(";")[0] for name, value in answer.getheaders() if name.lower() == "set-cookie")
    asked.close()
    asked.request("GET", f"{at.path}/", headers={"Cookie": held})
    answer = asked.getresponse()
    if answer.status != 200 or b"marimo" not in answer.read():
        raise RuntimeError(f"the page was answered with {answer.status}")
    asked.close()
    return held


def fault(message: dict) -> str:
    """What a message says went wrong in a cell, if anything."""
    output = message.get("output") or {}
    if message["op"] != "cell-op" or output.get("channel") != "marimo-error":
        return ""
    return "; ".join(str(error) for error in output["data"] if error.get("type") not in STOPPED)


async def opened(address: str) -> str:
    """Open a page as a browser does and wait for the end of its first run; what went wrong, if anything."""
    at = urlsplit(address)
    held = await asyncio.to_thread(cookies, address)
    headers = {"Cookie": held, "Origin": f"http://{at.netloc}"}
    url = f"ws://{at.netloc}{at.path}/ws?session_id=s_{uuid4().hex[:8]}"
    async with connect(url, additional_headers=headers, max_size=None, open_timeout=PATIENCE) as page:
        async for text in page:
            message = json.loads(text)["data"] if "data" in (read := json.loads(text)) else read
            message = {"op": read["op"], **(message if isinstance(message, dict) else {})}
            if message["op"] == "completed-run":
                return ""
            if said := fault(message):
                return said
    return "the connection ended"


async def soak(addresses: list[str]) -> list[str]:
    """What went wrong with each of some openings at the same moment."""

    async def told(address: str) -> str:
        try:
            return await asyncio.wait_for(opened(address), PATIENCE)
        except Exception as error:
            return f"{type(error).__name__}: {error}"

    return await asyncio.gather(*map(told, addresses))


def memory(process: int) -> float:
    """Memory that a process has [MB]."""
    status = Path(f"/proc/{process}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) / 1000


def main(openings: int) -> int:
    with tempfile.TemporaryDirectory() as temporary:
        house = shutil.copytree(demo_house(), Path(temporary, "house"))
        served = Served("serve", house)
        try:
            before, begun = memory(served.process.pid), time.monotonic()
            addresses = [served.urls[number % len(served.urls)] for number in range(openings)]
            faults = [said for said in asyncio.run(soak(addresses)) if said]
            taken = time.monotonic() - begun
            print(f"{openings} openings: {openings - len(faults)} to the end, {len(faults)} failed, {taken:.0f} s")
            print(f"memory {before:.0f} MB before, {memory(served.process.pid):.0f} MB after")
            for said in sorted(set(faults)):
                print(f"{faults.count(said)} x {said[:400]}")
        finally:
            served.kill()
    return int(bool(faults))


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
