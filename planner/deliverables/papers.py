"""What papers are: files that people carry, each with a stamp by which two of them are known to agree."""

from dataclasses import dataclass
from datetime import date
from pathlib import PurePosixPath

from planner.files.names import file_name, free_name, is_file_name
from planner.planning.answer import Plan
from planner.planning.frames import STANDS
from planner.record.fingerprint import fingerprint_of
from planner.units import INCHES_IN, METRIC, Unit, in_one_line

LONGEST_NAME = 50
"""A name at the foot of a page has no more characters than this."""


@dataclass(frozen=True)
class Stamp:
    """What every paper says of itself.

    Parameters
    ----------
    house, alternative : by their titles.
    day : when the papers were made.
    fingerprint : of what the plan is made from, as planner.record.fingerprint has it: papers with the same one agree.
    """

    house: str
    alternative: str
    day: date
    fingerprint: str

    @property
    def lines(self) -> tuple[tuple[str, str], ...]:
        """What a title block says, each line with what it is."""
        said = (self.house, self.alternative, self.day.isoformat(), self.fingerprint)
        return tuple(zip(("House", "Alternative", "Date", "Inputs"), said, strict=True))

    @property
    def words(self) -> str:
        """All of it in one line, long names cut, for the foot of a page.

        >>> Stamp("Larkmead", "Plainer upstairs", date(2030, 1, 31), "0f1e2d3c4b5a6978").words
        'Larkmead · Plainer upstairs · 2030-01-31 · inputs 0f1e2d3c4b5a6978'
        """
        house, alternative = (in_one_line(name, LONGEST_NAME) for name in (self.house, self.alternative))
        return f"{house} · {alternative} · {self.day.isoformat()} · inputs {self.fingerprint}"


def stamp_of(plan: Plan, day: date) -> Stamp:
    """The stamp of all papers of a plan that are made on a day."""
    title = plan.intent.title or plan.intent.name or STANDS
    return Stamp(plan.house.name, title, day, fingerprint_of(plan))


@dataclass(frozen=True)
class Paper:
    """One file.

    Parameters
    ----------
    name : of the file, from the folder that all papers go to, with "/" between folders; see `paper_name`.
    title : what it is, for people.
    data : what is in it.

    Raises
    ------
    ValueError : the name leads out of the folder, or not every file system takes it.
    """

    name: str
    title: str
    data: bytes

    def __post_init__(self) -> None:
        if not is_paper_name(self.name):
            raise ValueError(f"{self.name!r} is no name of a paper")


def is_paper_name(name: str) -> bool:
    """Whether a name stays in the folder that it is taken from, and any file system takes it.

    >>> is_paper_name("tables/rooms.csv"), is_paper_name("../rooms.csv"), is_paper_name("/rooms.csv")
    (True, False, False)
    """
    return bool(name) and all(map(is_file_name, name.split("/"))) and PurePosixPath(name).as_posix() == name


def paper_name(folder: str, titles: tuple[str, ...], ending: str, taken: set[str]) -> str:
    """The name of a paper that says what is in it, whatever that is called; it is added to those that are `taken`.

    >>> taken = set()
    >>> paper_name("rooms", ("../Parlor",), ".dxf", taken), paper_name("rooms", ("PARLOR",), ".dxf", taken)
    ('rooms/parlor.dxf', 'rooms/parlor 2.dxf')
    >>> paper_name("rooms", ("Con",), ".dxf", taken)  # no file of any ending may be called so everywhere
    'rooms/con_.dxf'
    """
    name = free_name(f"{folder}/{file_name(titles, '')}", taken)
    taken.add(name)
    return f"{name}{ending}"


@dataclass(frozen=True)
class PaperSize:
    """The paper that drawings are made on, on its long side, and the one that is written on, upright [in].

    `sheet` and `page` are width and height, `page_name` what the page is called.
    """

    name: str
    sheet: tuple[float, float]
    page_name: str
    page: tuple[float, float]


def _mm(width: float, height: float) -> tuple[float, float]:
    return width * INCHES_IN["mm"], height * INCHES_IN["mm"]


SIZES = {
    size.name: size
    for size in (
        PaperSize("ANSI B", (17.0, 11.0), "Letter", (8.5, 11.0)),
        PaperSize("A3", _mm(420, 297), "A4", _mm(210, 297)),
    )
}
"""Papers by name: ANSI B and its half (ASME Y14.1, Drawing Sheet Size and Format), A3 and A4 (ISO 216:2007, table 1);
from memory."""


def usual_size(unit: Unit) -> PaperSize:
    """The paper of a house of that unit.

    >>> usual_size("ft").name, usual_size("mm").name
    ('ANSI B', 'A3')
    """
    return SIZES["A3" if unit in METRIC else "ANSI B"]
