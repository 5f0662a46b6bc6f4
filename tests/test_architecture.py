"""The shape of the code: rooms in their order, nothing looked up behind anybody's back, nothing too long to read."""

import ast
import re
from collections.abc import Iterator
from itertools import takewhile
from pathlib import Path

import networkx as nx
import pytest

ROOT = Path(__file__).parents[1]
ORDER = [
    *("units", "values", "library", "files", "house", "intent", "hierarchy", "mouldings", "trim", "stock", "walls"),
    *(
        "checks",
        "takeoff",
        "planning",
        "record",
        "look",
        "drawings",
        "charts",
        "deliverables",
        "bundle",
        "apps",
        "stopping",
        "terminal",
        "server",
        "cli",
        "start",
    ),
]
"""The rooms in the order in which imports point: a room imports from itself and from those before it."""

MODULES = sorted((ROOT / "planner").rglob("*.py"))
LONGEST_FILE, LONGEST_FUNCTION = 500, 60

API = {
    "planner/house/styles.py",
    "planner/intent/edits.py",
    "planner/stock/stock.py",
    "planner/stock/own_profiles.py",
    "planner/planning/pipeline.py",
    "planner/record/fingerprint.py",
}
"""Where a caller may leave the library out, and the standard one is taken."""


def name(path: Path) -> str:
    """The dotted name of a module."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports(path: Path) -> Iterator[tuple[int, str]]:
    """Every import of a module of the project, at whatever depth, with its line."""
    known = {name(p) for p in MODULES}
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, a.name) for a in node.names if a.name.startswith("planner"))
        elif isinstance(node, ast.ImportFrom) and (node.module or "").partition(".")[0] == "planner":
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                yield node.lineno, inner if inner in known else node.module


def room(module: str) -> str:
    """The room of the code that a module is in; the API's own front has none."""
    return module.split(".")[1] if "." in module else ""


def test_every_room_is_in_the_order():
    assert {room(name(path)) for path in MODULES} - {""} == set(ORDER)


def test_the_map_for_those_who_carry_on_has_every_room_and_sends_nobody_astray():
    lines = (ROOT / "DEVELOPERS.md").read_text("utf-8").partition("| room |")[2].splitlines()[2:]
    rows = [line.split("|")[1:-1] for line in takewhile(lambda line: line.startswith("|"), lines)]
    files = {p.relative_to(ROOT / "planner").as_posix() for p in (ROOT / "planner").rglob("*.*")}
    rooms, lost = [], []
    for named, _, begin in rows:
        here = re.findall(r"`(.+?)`", named)
        rooms += here
        lost += [
            word
            for word in re.findall(r"`([\w.]+)`", begin)
            if not {word, *(f"{room}/{word}" for room in here)} & files
        ]
    assert rooms == ORDER
    assert lost == []


@pytest.mark.parametrize("path", MODULES, ids=name)
def test_imports_point_one_way(path):
    here = room(name(path))
    if not here:
        return
    allowed = set(ORDER[: ORDER.index(here) + 1]) | ({""} if here in ("cli", "apps") else set())
    assert [f"line {line}: {module}" for line, module in imports(path) if room(module) not in allowed] == []


def test_no_import_goes_round():
    graph = nx.DiGraph((name(p), module) for p in MODULES if room(name(p)) for _, module in imports(p))
    assert list(nx.simple_cycles(graph)) == []


@pytest.mark.parametrize("path", MODULES, ids=name)
def test_files_and_functions_can_be_read_at_a_sitting(path):
    text = path.read_text("utf-8")
    functions = [n for n in ast.walk(ast.parse(text)) if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)]
    assert text.count("\n") <= LONGEST_FILE
    assert [f.name for f in functions if f.end_lineno - f.lineno + 1 > LONGEST_FUNCTION] == []


@pytest.mark.parametrize("path", MODULES, ids=name)
def test_the_library_is_handed_on_and_not_looked_up(path):
    """`standard()` stands in for a library that a caller of the API left out, and is called nowhere else."""
    calls = [
        node.lineno
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "standard"
    ]
    assert calls == [] or str(path.relative_to(ROOT)) in API


def used() -> set[str]:
    """Every name that the product reads, as a name, an attribute or a word by itself."""
    code = [ast.parse(path.read_text("utf-8")) for path in (*MODULES, *(ROOT / "notebooks").glob("*.py"))]
    nodes = [node for tree in code for node in ast.walk(tree)]
    names = {node.id for node in nodes if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load)}
    names |= {node.attr for node in nodes if isinstance(node, ast.Attribute)}
    return names | {node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str)}


def test_nothing_is_defined_that_only_tests_use():
    read, idle = used(), []
    for path in MODULES:
        top = ast.parse(path.read_text("utf-8")).body
        inner = [node for one in top if isinstance(one, ast.ClassDef) for node in one.body]
        for node in (*top, *inner):
            kinds = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef
            # What is decorated may be called by whoever keeps it, as commands are; what begins with _ by its framework.
            if isinstance(node, kinds) and not node.name.startswith("_") and node.name not in read:
                idle += [] if _registered(node) else [f"{path.relative_to(ROOT)}: {node.name}"]
    assert idle == []


def _registered(node: ast.AST) -> bool:
    """Whether a function is kept by what decorates it."""
    return any(isinstance(by, ast.Call) and isinstance(by.func, ast.Attribute) for by in node.decorator_list)


def test_the_top_level_is_what_it_is_said_to_be():
    visible = {p.name for p in ROOT.iterdir() if not p.name.startswith(".") and not p.name.endswith(".egg-info")}
    said = {"README.md", "DEVELOPERS.md", "pyproject.toml", "planner", "notebooks", "tests", "demo_house"}
    assert visible - {"dist", "build", "__marimo__"} == said


@pytest.mark.parametrize("path", sorted((ROOT / "notebooks").glob("*.py")), ids=lambda p: p.stem)
def test_notebooks_are_layout(path):
    text = path.read_text("utf-8")
    assert text.count("\n") <= 400
    assert "planner.library" not in text
