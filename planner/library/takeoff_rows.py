"""What a row of library/takeoff.toml says: what is left for saws, ends and fits, and what boards come in."""

from planner.library.rows import TableRow


class Allowance(TableRow, frozen=True):
    """One allowance: its `value` [in; a scarf's in degrees] where a house does not say another from `least` to
    `most`."""

    name: str
    says: str
    value: float
    least: float
    most: float
    source: str


class Boards(TableRow, frozen=True):
    """What boards come in, dressed, rising [in]."""

    thicknesses: tuple[float, ...]
    widths: tuple[float, ...]
    source: str


class Takeoff(TableRow, frozen=True, rename={"allowances": "allowance"}):
    """What pieces are taken off by; `lengths` is what is sold where the stock says no lengths [in], `leftover` by what
    part more material is counted than a room's pieces take, where it is costed by itself."""

    lengths: tuple[float, ...]
    leftover: float
    allowances: tuple[Allowance, ...]
    boards: Boards
