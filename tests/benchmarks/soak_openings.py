"""Many pages opened at the same moment, each to the end of its first run: none may fail.

Run it by itself: python -m tests.benchmarks.soak_openings [OPENINGS]. It opens the apps in turn, prints how many came
to their end, how many failed and why, the seconds until the last was there and the server's memory; exits 1 where one
failed.
"""

import re
import shutil
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from planner import demo_house
from tests.serving import Served, come_in, faults, first_run


def opened(address: str) -> str:
    """Open a page as a browser does, and stay to the end of its first run; what went wrong, if anything."""
    try:
        ended = False
        for message in first_run(address, come_in(address)):
            if said := faults(message):
                return "; ".join(said)
            ended = message["op"] == "completed-run"
        return "" if ended else "the connection ended"
    except Exception as error:
        return f"{type(error).__name__}: {error}"


def memory(process: int) -> float:
    """Memory that a process has [MB]."""
    status = Path(f"/proc/{process}/status").read_text()
    (held,) = re.findall(r"VmRSS:\s+(\d+)", status)
    return int(held) / 1000


def main(openings: int) -> int:
    with tempfile.TemporaryDirectory() as temporary:
        house = shutil.copytree(demo_house(), Path(temporary, "house"))
        served = Served("serve", house)
        try:
            before, begun = memory(served.process.pid), time.monotonic()
            addresses = [served.urls[number % len(served.urls)] for number in range(openings)]
            with ThreadPoolExecutor(openings) as browsers:
                failed = [said for said in browsers.map(opened, addresses) if said]
            taken = time.monotonic() - begun
            print(f"{openings} openings: {openings - len(failed)} to the end, {len(failed)} failed, {taken:.0f} s")
            print(f"memory {before:.0f} MB before, {memory(served.process.pid):.0f} MB after")
            for said in sorted(set(failed)):
                print(f"{failed.count(said)} x {said[:400]}")
        finally:
            served.kill()
    return int(bool(failed))


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
