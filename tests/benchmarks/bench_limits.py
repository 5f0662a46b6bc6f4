"""How long `planner check` takes, and how much memory, on tables as large as can be and larger, each in a process of
its own. Run by hand: python -m tests.benchmarks.bench_limits.
"""

import resource
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from planner.files.csv_tables import LARGEST_TABLE, MOST_ROWS

TOML = 'format = 1\nname = "Large"\nentry = "Room 0"\n'
HEADS = {
    "rooms": "room,level,use,length,width,ceiling,outline,notes",
    "openings": "opening,kind,room,other,wall,offset,width,height,sill",
    "stock": "profile,role,family,height,projection,thickness,members,lengths,price,unit",
    "existing": "room,element,form,height,projection,bottom,profile,notes",
    "fixtures": "fixture,kind,room,wall,offset,width,bottom,top,depth,notes",
    "stairs": "flight,room,wall,offset,up,risers,rise,run,foot,notes",
}
ROWS: dict[str, Callable[[int], str]] = {
    "rooms": lambda i: f"Room {i},Ground,bedroom,120,120,108,,",
    "openings": lambda i: f"D{i},door,Room {i},Room {i + 1},N,,30,80,",
    "stock": lambda i: f"P{i},casing,,{3 + i / 1e5},3/4,3/4,fascia {3 + i / 1e5} x 3/4,8' 10',2.35,ft",
    "existing": lambda i: f"Room {i},base,board,5,3/4,,,",
    "fixtures": lambda i: f"F{i},counter,Room {i},N,24,60,,,,",
    "stairs": lambda i: f"S{i},Room {i},N,5,right,10,7,10,,",
}
NEEDED = ("rooms", "openings")


def faulty(row: str) -> str:
    """A row whose every name is one letter off."""
    return row.replace("Room ", "Rom ").replace("casing", "casin")


def houses() -> Iterator[tuple[str, dict[str, str]]]:
    """Houses by name, each as the rows of its tables."""
    whole = {table: _rows(table, MOST_ROWS - (table == "openings")) for table in NEEDED}
    for table in HEADS:
        many = 49_000_000 // len(ROWS[table](100_000))
        yield f"{table}, 49 MB", whole | {table: _rows(table, many)}
        yield f"{table}, {MOST_ROWS:,} rows", whole | {table: _rows(table, MOST_ROWS - (table == "openings"))}
        yield f"{table}, {MOST_ROWS:,} faulty rows", whole | {table: faulty(_rows(table, MOST_ROWS - 1))}
    yield "16,000 rooms, none joined", {"rooms": _rows("rooms", 16_000), "openings": ""}
    yield "blank lines, as large as may be", {"rooms": "\n" * (LARGEST_TABLE - 100), "openings": ""}


def _rows(table: str, count: int) -> str:
    return "".join(f"{ROWS[table](i)}\n" for i in range(count))


def measured(folder: Path, tables: dict[str, str]) -> str:
    """Seconds, peak memory and the answer of `planner check`."""
    (folder / "house.toml").write_text(TOML, "utf-8")
    for table, rows in tables.items():
        (folder / f"{table}.csv").write_text(f"{HEADS[table]}\n{rows}", "utf-8")
    code = "import resource, sys; from planner.cli import main; "
    code += "import atexit; atexit.register(lambda: print('PEAK', "
    code += "resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, file=sys.stderr)); main()"
    start, before = perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run([sys.executable, "-c", code, "check", str(folder)], capture_output=True, text=True)
    wall, after = perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    *told, peak = done.stderr.splitlines()
    said = [*told, *done.stdout.splitlines()]
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    figures = f"{wall:.1f} s, {spent:.1f} of a processor, {int(peak.split()[1]) / 2**20:.2f} GB"
    return f"{figures}; code {done.returncode}, {len(said)} lines: {said[0][:80]}"


if __name__ == "__main__":
    for name, tables in houses():
        with TemporaryDirectory() as made:
            print(f"{name}: {measured(Path(made), tables)}", flush=True)
