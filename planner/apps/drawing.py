"""A house on the drawing board of the designer's page: what is drawn and typed, step by step, until it is saved."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from planner.apps.board import shown
from planner.apps.board.meant import Meant
from planner.apps.board.readings import Readings
from planner.apps.board.shown import Look
from planner.apps.house_drafts import HouseDraft, Unsaved
from planner.files.problems import HouseFault, Problem
from planner.files.storage import Overtaken, names_in, seen
from planner.house import drafting, sketch
from planner.house.editing import KEYS, TABLES, read_sheet, sheet_of
from planner.house.faults import OPENINGS, ROOMS, STOCK
from planner.house.folder import ALTERNATIVES
from planner.house.merging import RowChange, merged, row_changes
from planner.house.model import House
from planner.house.parsing import HOUSE
from planner.house.sketch import Sketch
from planner.house.styles import house_library
from planner.intent.edits import History
from planner.intent.renaming import save_sketch
from planner.units import LengthError, as_unit, counted, parse_length

PUTTING = "A click on a wall puts {kind} there."
"""What is said while openings are put on walls."""


@dataclass(frozen=True)
class Refusal:
    """Why nothing was saved: `faults`; or for each file that somebody else has changed what became of its rows, with
    the `faults` that the house would have were it overwritten; or why what was done is `unkept`, on the page alone.
    """

    faults: tuple[Problem, ...] = ()
    overtaken: Mapping[str, tuple[RowChange, ...]] | None = None
    unkept: tuple[Problem, ...] = ()


@dataclass(frozen=True)
class Moment:
    """A sketch, and the step that led to it in words."""

    sketch: Sketch
    words: str = ""


class Drawing:
    """The house of a folder as it is drawn. What was done stays until it is saved or put away, whatever else is looked
    at meanwhile, and is in the session's draft on the disk; files that nothing was done to follow the folder.

    `lost` are the faults of files that are none any more, so that nothing can be drawn; `back` the files that have in
    them what was done before the page was loaded, `touched` when that was, `torn` why a draft could not be read,
    `unkept` why what was done last is in no draft, `refused` what the page shows of why nothing was saved.
    """

    def __init__(self, folder: Path, session: str = ""):
        self.folder, self.library = folder, house_library(folder)[0]
        self.look, self.readings, self.news, self.is_refused = Look(), Readings(), "", False
        self._meant = Meant()
        self.lost: tuple[Problem, ...] = ()
        self.base, self.seen = Sketch("", {}), dict[str, bytes | None]()
        self.history = History.of(Moment(self.base))
        self._judged: tuple[Sketch, House, tuple[Problem, ...]] | None = None
        self._draft, self.unkept = HouseDraft(folder, session), tuple[Problem, ...]()
        self.refused: Refusal | None = None
        self.touched, self.torn = self._draft.touched, self._draft.faults
        self.follow()
        if self._draft.found and not self.lost:
            self._take_up(self._draft.found)
        self.back = tuple(self.unsaved)
        self.keep()

    @property
    def session(self) -> str:
        """The name of the session, which its draft bears."""
        return self._draft.session

    @property
    def sketch(self) -> Sketch:
        """The house as it stands on the board."""
        return self.history.present.sketch

    @property
    def unsaved(self) -> list[str]:
        """The files that say something else on the board than in the folder."""
        return list(sketch.changed_files(self.base, self.sketch))

    @property
    def is_blank(self) -> bool:
        """Whether the house is as it was begun: one room, and no way into it."""
        return len(self.sketch.rooms) <= 1 and not self.sketch.rows(OPENINGS)

    def judged(self) -> tuple[House, tuple[Problem, ...]]:
        """The house as far as it is sound, and every fault and doubt of it."""
        if self._judged is None or self._judged[0] is not self.sketch:
            self._judged = (self.sketch, *sketch.judged(self.sketch, self.library))
        return self._judged[1:]

    def follow(self) -> None:
        """Read the files that nothing was done to as they are now, and the styles of the house with them."""
        changed, self.library, self._judged = set(self.unsaved), house_library(self.folder)[0], None
        now, stands, self.lost = _read(self.folder)
        if self.lost:
            return
        if not self.seen or (not changed and stands != self.seen):
            self.base, self.seen, self.history = now, stands, History.of(Moment(now))
        elif any(stands[file] != self.seen[file] for file in stands if file not in changed):
            files = [file for file in (HOUSE, *TABLES) if file not in changed]
            self.base = _with_files(self.base, now, files)
            self.seen |= {file: stands[file] for file in files}
            self.history = self.history.map(lambda m: replace(m, sketch=_with_files(m.sketch, now, files)))
        self._look_at_what_there_is()

    # Drafts

    def keep(self) -> None:
        """Keep what is not saved as the session's draft; where that cannot be, it is `unkept`."""
        files = self.unsaved
        tables = {file: self.sketch.rows(file) for file in files if file != HOUSE}
        toml = self.sketch.toml if HOUSE in files else None
        try:
            self._draft.keep(Unsaved({f: self.seen[f] for f in files}, tables, toml, self.sketch.renamed))
        except HouseFault as fault:
            self.unkept = fault.problems
        else:
            self.unkept = ()

    def refusal(self) -> Refusal | None:
        """Why what was done last is in no draft, where it is not."""
        return Refusal(unkept=self.unkept) if self.unkept else None

    def _take_up(self, found: Unsaved) -> None:
        """Go on from a draft: what it was begun from stands for the files as they were seen."""
        tables = {file: sheet_of(file, data).rows for file, data in found.seen.items() if file != HOUSE}
        toml = self.base.toml if found.toml is None else sketch.settings_text(found.seen[HOUSE] or b"")
        drawn = {file: tuple(rows) for file, rows in found.tables.items()}
        made = Sketch(
            self.base.toml if found.toml is None else found.toml, {**self.base.tables, **drawn}, found.renamed
        )
        if not list(sketch.changed_files(self.base, made)):
            return
        self.base, self.seen = Sketch(toml, {**self.base.tables, **tables}), {**self.seen, **found.seen}
        self.history = History.of(Moment(made))
        self._look_at_what_there_is()

    # Steps

    def do(self, made: Sketch, words: str) -> None:
        """Go on to another sketch."""
        self.history = self.history.do(Moment(made, words)) if made != self.sketch else self.history
        self.news, self.is_refused = words[:1].upper() + words[1:] + "." if words else "", False
        self._stepped()

    def undo(self) -> None:
        """Take the last step back."""
        said = self.history.present.words if self.history.past else ""
        self.history, self.is_refused = self.history.undo(), False
        self.news = f"Undone: {said}." if said else "There is nothing to undo."
        self._stepped()

    def redo(self) -> None:
        """Do the step again that was taken back last."""
        can = bool(self.history.future)
        self.history, self.is_refused = self.history.redo(), False
        self.news = f"Done again: {self.history.present.words}." if can else "There is nothing to do again."
        self._stepped()

    def _stepped(self) -> None:
        self._look_at_what_there_is()
        self.keep()

    def refuse(self, words: str) -> None:
        """Say why something cannot be done."""
        self.news, self.is_refused = words[:1].upper() + words[1:] + ".", True

    # Saving

    def save(self) -> Refusal | None:
        """Save what was done; where that cannot be, nothing is saved, nothing done is lost, and why is returned."""
        files = self.unsaved
        try:
            save_sketch(self.folder, self.sketch, files, {file: self.seen[file] for file in files})
        except Overtaken as overtaken:
            return self._overtaken(overtaken)
        except HouseFault as fault:
            return Refusal(fault.problems)
        self._settle()
        return None

    def put_into_theirs(self) -> None:
        """Put what was done into the files as they are now; what both changed is as it was done here."""
        files = self.unsaved
        theirs, stands, lost = _read(self.folder)
        if lost:
            raise HouseFault(lost)
        made = _with_files(self.sketch, theirs, [file for file in (HOUSE, *TABLES) if file not in files])
        for file in files:
            if file == HOUSE:
                made = replace(made, toml=sketch.merged_settings(self.base.toml, self.sketch.toml, theirs.toml))
            else:
                rows = merged(self.base.rows(file), self.sketch.rows(file), theirs.rows(file), KEYS[file])
                made = made.with_rows(file, rows)
        self.base, self.seen = theirs, stands
        self.history = self.history.do(Moment(made, "mine put into theirs"))
        self._stepped()

    def overwrite(self) -> Refusal | None:
        """Save what was done in the place of what somebody else has written meanwhile; where that would not be sound,
        as their other tables go with what they wrote, all stays as it was."""
        before, files = self.seen, self.unsaved
        self.seen = before | seen(self.folder, files)
        theirs = [file for file in files if self.seen[file] != before[file]]
        refusal = self.save()
        if refusal is None or refusal.overtaken is not None:
            return refusal
        self.seen = before
        return replace(refusal, overtaken=self._changes_to(theirs))

    def put_away(self) -> None:
        """Forget what was done."""
        self.history, self.seen, self.back = History.of(Moment(self.base)), {}, ()
        self.follow()
        self.keep()

    def _settle(self) -> None:
        """What was saved is where the next step begins from; what was done before can still be undone."""
        saved = self.sketch.renamed
        now, stands, self.lost = _read(self.folder)
        if self.lost:
            return
        rebased = self.history.map(lambda m: replace(m, sketch=sketch.rebased(m.sketch, saved)))
        self.base, self.seen = now, stands
        self.history, self.back = replace(rebased, present=Moment(now, rebased.present.words)), ()
        self._stepped()

    def _overtaken(self, overtaken: Overtaken) -> Refusal:
        changes = self._changes_to(overtaken.files)
        return Refusal((), changes) if changes is not None else Refusal((*overtaken.problems, *_read(self.folder)[2]))

    def _changes_to(self, files: Iterable[str]) -> Mapping[str, tuple[RowChange, ...]] | None:
        """What became of the rows of files since they were seen; None where they can be read no longer."""
        now, _, lost = _read(self.folder)
        if lost:
            return None
        return {
            file: row_changes(self.base.rows(file), now.rows(file), KEYS[file])
            if file in TABLES
            else tuple(
                RowChange(key, "changed", {"value": after}, {"value": before})
                for key, (before, after) in sketch.changed_settings(self.base.toml, now.toml).items()
            )
            for file in files
        }

    def look_at(self, at: int) -> None:
        """Pick the room in a row, from 0, and its level, where it can be drawn."""
        if at in self.sketch.drawn:
            self.look.picked, self.look.level = at, self.sketch.rooms[at]["level"]
        self._look_at_what_there_is()

    def _look_at_what_there_is(self) -> None:
        levels, look = list(sketch.form(self.sketch).levels), self.look
        if look.level not in levels:
            look.level = levels[0] if levels else ""
        if look.picked not in self.sketch.drawn or self.sketch.rooms[look.picked]["level"] != look.level:
            look.picked = next((at for at, one in self.sketch.drawn.items() if one.room.level == look.level), -1)
        one = self.sketch.drawn.get(look.picked)
        if one and not one.room.wall(look.wall):
            look.wall = one.room.walls[0].name

    # What is shown

    def shown(self) -> dict[str, dict[str, Any]]:
        """What the board is told of it, part by part."""
        house, faults = self.judged()
        past, future = self.history.past, self.history.future
        return {
            "form": shown.form_part(self.sketch, faults, self._fixed_unit(), self.is_blank, self.library),
            "plan": shown.plan_part(self.sketch, self.look, house, faults, self.library),
            "table": shown.table_part(self.sketch, self.look, faults, self.library),
            "reading": self.readings.shown(self.sketch, self.library),
            "said": shown.said_part(
                self.sketch,
                self.news,
                self.is_refused,
                self.unsaved,
                self.history.present.words if past else "",
                future[-1].words if future else "",
                faults,
            )
            | {"moment": self._meant.moment(self.sketch)},
        }

    def _fixed_unit(self) -> str:
        """Why the unit can no longer be changed; "" where it can."""
        if (self.folder / STOCK).exists():
            return f"{STOCK} is written in it"
        if names_in(self.folder, ALTERNATIVES, ".toml", []):
            return "the alternatives are written in it"
        return ""

    # Gestures

    def act(self, gesture: Mapping[str, Any]) -> None:
        """Do what was done on the board; what cannot be done is said."""
        try:
            self._act(self._meant.now(gesture, self.sketch))
        except (ValueError, LengthError, HouseFault) as fault:
            self.refuse(str(fault))
        except (KeyError, TypeError, IndexError, OverflowError):
            self.refuse("the board and the house are out of step: load the page again")

    def _act(self, gesture: Mapping[str, Any]) -> None:
        match gesture["do"]:
            case "undo":
                self.undo()
            case "redo":
                self.redo()
            case "setting" | "ceiling" | "add level" | "rename level" | "remove level" as what:
                self._settings(what, gesture)
            case "add" | "move" | "resize" | "place" | "put" as what:
                self._draw(what, gesture)
            case "cell" | "remove" | "row" | "paste" as what:
                self._write(what, gesture)
            case "read":
                self._read(gesture)
            case "let go":
                self.back = ()
                self.do(self.base, "what was not saved put away")
            case _:
                self._turn(gesture)

    def _settings(self, what: str, gesture: Mapping[str, Any]) -> None:
        text, now = str(gesture.get("text", "")).strip(), self.sketch
        match what, gesture.get("key"):
            case "setting", "unit":
                self.do(*drafting.change_unit(now, as_unit(text), self.library))
            case "setting", "entry":
                self.do(sketch.with_entry(now, text), f"guests arrive in {text}")
            case "setting", "year_built":
                self.do(sketch.with_setting(now, "year_built", _whole(text)), f"built in {text}")
            case "setting", "name" | "style" | "grade" | "currency" as key:
                self.do(sketch.with_setting(now, key, text), f"{key} is {text} now")
            case "ceiling", _:
                self.do(
                    sketch.with_level(now, str(gesture["level"]), text), f"the ceiling of {gesture['level']} is {text}"
                )
            case "add level", _:
                self._add_level(str(gesture["level"]).strip(), text)
            case "rename level", _:
                self.do(
                    sketch.renamed_level(now, str(gesture["level"]), text), f"{gesture['level']} is called {text} now"
                )
            case "remove level", _:
                self.do(sketch.without_level(now, str(gesture["level"])), f"{gesture['level']} removed")

    def _add_level(self, level: str, ceiling: str) -> None:
        if not level or level in sketch.form(self.sketch).levels:
            raise ValueError(f"there is a level {level} already" if level else "a level needs a name, e.g. Upper")
        parse_length(ceiling, sketch.unit_of(self.sketch))
        self.look.level = level
        self.do(sketch.with_level(self.sketch, level, ceiling), f"{level} added")

    def _draw(self, what: str, gesture: Mapping[str, Any]) -> None:
        now, look, at = self.sketch, self.look, int(gesture.get("at", -1))
        by = [float(part) for part in gesture.get("by", ())]
        match what:
            case "add":
                made = drafting.add_room(now, look.use, look.level, look.beside, self.library)
                look.picked = len(made[0].rooms) - 1
                self.do(*made)
            case "move":
                look.picked = at
                self.do(*drafting.move_room(now, at, (by[0], by[1]), bool(gesture["dragged"])))
            case "resize":
                handle = str(gesture["handle"])
                self.do(*drafting.resize_room(now, at, handle, (by[0], by[1]), bool(gesture["dragged"])))
            case "place":
                self.do(*drafting.place_room(now, at, str(gesture["column"]), str(gesture["text"])))
            case "put":
                along = gesture["along"]
                wall, kind = str(gesture["wall"]), _known(gesture["kind"], self.library.opening_kinds)
                to = None if along is None else float(along)
                self.do(*drafting.put_opening(now, at, wall, to, kind, self.judged()[0], self.library))

    def _write(self, what: str, gesture: Mapping[str, Any]) -> None:
        now, file = self.sketch, str(gesture.get("file", self.look.file))
        at, column = int(gesture.get("at", 0)), str(gesture.get("column", ""))
        rows = now.rows(_known(file, TABLES))
        match what:
            case "cell":
                made = sketch.with_cell(
                    now, file, _within(at, rows), _known(column, TABLES[file]), str(gesture["text"])
                )
                named = next(iter(made.rows(file)[at].values())) or f"row {at + 2}"
                self.do(drafting.with_ceilings(made), f"{column} of {named} changed")
            case "remove":
                made = sketch.without_row(now, file, _within(at, rows))
                self.do(made, drafting.removed(now, file, at, made))
            case "row":
                self.look.find, self.look.first = "", len(rows)
                self.do(sketch.with_row(now, file, {}), f"a row added to {file}")
            case "paste":
                made, words = drafting.pasted(now, file, at, column, str(gesture["text"]))
                self.do(drafting.with_ceilings(made), words)

    def _read(self, gesture: Mapping[str, Any]) -> None:
        self.news = ""
        if "take" in gesture:
            part = self.readings.part(int(gesture["part"]))
            what, instead = part.understood, gesture["take"] == "instead"
            made = drafting.with_rows_added(self.sketch, what.file, what.rows, instead)
            self.readings.parts.remove(part)
            self.look.file, self.look.find, self.look.first = what.file, "", len(made.rows(what.file)) - len(what.rows)
            self.do(
                made,
                f"{counted(len(what.rows), 'row')} of {part.title} {'put' if instead else 'added'} into {what.file}",
            )
        elif "as" in gesture:
            self.readings.read_as(int(gesture["part"]), _known(gesture["as"], TABLES))
        elif "drop" in gesture:
            self.readings.clear()
        else:
            self.readings.read(
                str(gesture["name"]), gesture.get("text"), gesture.get("data"), int(gesture.get("size", 0))
            )

    def _turn(self, gesture: Mapping[str, Any]) -> None:
        """What only turns the board: what is picked, which level and table are looked at, what lists stand at."""
        look, self.news = self.look, ""
        match gesture["do"]:
            case "pick":
                look.picked = look.beside = _within(int(gesture["at"]), self.sketch.rooms)
            case "level":
                look.level = str(gesture["level"])
            case "use":
                look.use = _known(gesture["use"], [use.name for use in self.library.uses])
            case "kind":
                look.kind = _known(gesture["kind"], ["", *self.library.opening_kinds])
                self.news = PUTTING.format(kind=drafting.called(look.kind)) if look.kind else ""
            case "to put":
                look.put = _known(gesture["kind"], self.library.opening_kinds)
            case "wall":
                look.wall = str(gesture["wall"])
            case "file":
                look.file, look.first, look.find = _known(gesture["file"], TABLES), 0, ""
            case "page":
                look.first = max(0, int(gesture["first"]))
            case "find":
                look.find, look.first = str(gesture["text"]), 0
            case "show":
                look.file, look.find = _known(gesture["file"], TABLES), ""
                look.first = max(0, int(gesture["row"]) - 2) // shown.PAGE * shown.PAGE
                if look.file == ROOMS:
                    self.look_at(int(gesture["row"]) - 2)
        self._look_at_what_there_is()


def _read(folder: Path) -> tuple[Sketch, dict[str, bytes | None], tuple[Problem, ...]]:
    """The files of a house as a sketch, what each holds, and the faults of those that are none."""
    tables, stands, faults, toml = dict[str, Any](), dict[str, bytes | None](), list[Problem](), ""
    for file in TABLES:
        try:
            sheet = read_sheet(folder, file)
            tables[file], stands[file] = sheet.rows, sheet.seen
        except HouseFault as fault:
            faults += fault.problems
    try:
        stands |= seen(folder, [HOUSE])
        toml = sketch.settings_text(stands[HOUSE] or b"")
    except HouseFault as fault:
        faults += fault.problems
    return Sketch(toml, tables), stands, tuple(faults)


def _with_files(old: Sketch, now: Sketch, files: list[str]) -> Sketch:
    """A sketch with some files as they are in another."""
    tables = {**old.tables, **{file: now.rows(file) for file in files if file != HOUSE}}
    return replace(old, tables=tables, toml=now.toml if HOUSE in files else old.toml)


def _known(name: object, known: Any) -> str:
    if name not in known:
        raise KeyError(name)
    return str(name)


def _within(at: int, rows: Any) -> int:
    if not 0 <= at < len(rows):
        raise IndexError(at)
    return at


def _whole(text: str) -> object:
    """A year as a number where it is one; what else was typed is kept, and told as a fault."""
    return int(text) if text.isdecimal() and len(text) < 10 else text or None
