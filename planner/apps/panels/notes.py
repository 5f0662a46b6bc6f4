"""Notes and photographs of one room and its openings: what is written, shown, added and removed."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import marimo as mo

from planner.apps import notes, pages
from planner.apps.houses import Tell
from planner.apps.typed import Typed
from planner.deliverables.room_notes import Noted, room_notes
from planner.files.pictures import ENDINGS, LARGEST_PICTURE
from planner.files.problems import HouseFault, Problem, words_of
from planner.files.storage import Overtaken
from planner.house.model import House
from planner.house.notes import LONGEST_NOTE, Note, change_note, read_notes
from planner.intent.renamed import called_now
from planner.planning.answer import Plan
from planner.units import counted

ROOM_ITSELF = "the room itself"

OVERTAKEN = (
    "Nothing was changed: somebody else has changed this note since it was shown. Below is what it says now; "
    "what you wrote is still in the field, and saving it again puts it in the place of theirs."
)


@dataclass(frozen=True)
class Noting:
    """The note that is spoken of, all notes of the room, and the controls of the one; `said` is what came of the last
    act, None where nothing did, and `refused` whether it was refused."""

    note: Note
    found: tuple[Noted, ...]
    faults: tuple[Problem, ...]
    about: mo.ui.dropdown
    words: mo.ui.text_area
    for_client: mo.ui.checkbox
    save: mo.ui.button
    upload: mo.ui.file
    remove: Mapping[str, mo.ui.button]
    back: mo.ui.button | None
    said: str
    refused: bool


BEGUN = "notes begun"
"""Where the rooms and openings wait whose notes were shown to be written."""


def _key(field: str, room: str, opening: str) -> str:
    return f"note {field}: {room}: {opening}"


class _Acts:
    """What the controls do to one note; what is said of it waits with what was typed, by the note's place."""

    def __init__(self, folder: Path, note: Note, typed: Typed, tell: Tell):
        self.folder, self.note, self.typed, self._tell = folder, note, typed, tell

    def key(self, field: str) -> str:
        """Where something of this note waits."""
        return _key(field, self.note.room, self.note.opening)

    def waiting(self, field: str, otherwise: object) -> object:
        """What waits, else something else."""
        return self.typed.get(self.key(field), otherwise)

    def save(self, words: str, for_client: bool) -> None:
        """Keep the words."""
        if self._change(replace(self.note, words=words, for_client=for_client), done="The note is saved."):
            self.typed.used(self.key("words"), self.key("client"))
        self._tell["noted"](None)

    def mark(self, for_client: bool) -> None:
        """Show the client the note, or no longer; what is not written yet is marked when it is."""
        self.typed[self.key("client")] = for_client
        if not self.note.is_blank:
            done = "The client is shown this note." if for_client else "The client is not shown this note."
            if self._change(replace(self.note, for_client=for_client), done=done):
                self.typed.used(self.key("client"))
            self._tell["noted"](None)

    def add(self, files: Sequence[tuple[str, bytes]]) -> None:
        """Keep photographs, all of them or none."""
        if files:
            note = replace(self.note, for_client=bool(self.waiting("client", self.note.for_client)))
            self._change(note, files, done=f"{counted(len(files), 'photograph')} added.")
            self._tell["noted"](None)

    def remove(self, name: str) -> None:
        """Remove a photograph; it waits to be put back."""
        shorter = replace(self.note, pictures=tuple(other for other in self.note.pictures if other != name))
        removed = self._change(shorter, done=f"{name} is removed.")
        if removed:
            self.typed[self.key("removed")] = (self.note, removed)
        self._tell["noted"](None)

    def put_back(self) -> None:
        """Put back the photograph that was removed last."""
        before, removed = self.typed[self.key("removed")]
        kept = [name for name in before.pictures if name in removed or name in self.note.pictures]
        pictures = (*kept, *(name for name in self.note.pictures if name not in kept))
        if self._change(replace(self.note, pictures=pictures), back=removed, done="It is back.") is not None:
            self.typed.used(self.key("removed"))
        self._tell["noted"](None)

    def _change(
        self,
        after: Note,
        added: Sequence[tuple[str, bytes]] = (),
        back: Mapping[str, bytes] | None = None,
        *,
        done: str,
    ) -> Mapping[str, bytes] | None:
        """Change the note, and keep what is to be said of it; the pictures removed, or None where it was refused."""
        try:
            _, removed = change_note(self.folder, self.note, after, added, back)
        except Overtaken:
            self.typed[self.key("said")] = (OVERTAKEN, True)
        except HouseFault as fault:
            self.typed[self.key("said")] = (f"Nothing was changed. {words_of(fault.problems)}", True)
        else:
            self.typed[self.key("said")] = (done, False)
            return removed
        return None


def noting(folder: Path, house: House, room: str, typed: Typed, tell: Tell) -> Noting:
    """The notes of a room as they are in the folder, and the controls of the one that is spoken of."""
    _carry(folder, house, typed)
    stand, faults = read_notes(folder, house)
    openings = [opening.name for opening in house.openings if room in (opening.room, opening.other)]
    chosen = typed.text(f"note of: {room}")
    opening = chosen if chosen in openings else ""
    acts = _Acts(folder, stand.get((room, opening), Note(room, opening)), typed, tell)
    note = acts.note
    said, refused = typed.pop(acts.key("said"), ("", False))

    def about(name: str) -> None:
        typed[f"note of: {room}"] = "" if name == ROOM_ITSELF else name
        tell["noted"](None)

    words = mo.ui.text_area(
        value=str(acts.waiting("words", note.words)),
        label=pages.plain(f"Note on {opening or room}"),
        placeholder="what is there today: condition, measures, what the owner said",
        max_length=LONGEST_NOTE,
        rows=4,
        full_width=True,
        on_change=typed.into(acts.key("words")),
    )
    typed.setdefault(BEGUN, set()).add((room, opening))
    typed[f"note field: {room}"] = words  # by the time that a click on another tab leaves it, it is off the page
    for_client = mo.ui.checkbox(
        value=bool(acts.waiting("client", note.for_client)), label="For the client", on_change=acts.mark
    )
    upload = mo.ui.file(
        filetypes=list(ENDINGS),
        multiple=True,
        max_size=LARGEST_PICTURE,
        label="Add photographs",
        on_change=lambda files: acts.add([(file.name, file.contents) for file in files]),
    )
    back = mo.ui.button(label="Undo the removal", on_click=lambda _: acts.put_back())
    return Noting(
        note,
        room_notes(folder, house, room, notes.LARGE),
        faults,
        mo.ui.dropdown([ROOM_ITSELF, *openings], value=opening or ROOM_ITSELF, label="About", on_change=about),
        words,
        for_client,
        mo.ui.button(label="Save the note", on_click=lambda _: acts.save(words.value, for_client.value)),
        upload,
        {name: _removing(name, acts.remove) for name in note.pictures},
        back if acts.key("removed") in typed else None,
        said,
        refused,
    )


def _carry(folder: Path, house: House, typed: Typed) -> None:
    """What is being written of a room goes with it to its new name."""
    begun: set[tuple[str, str]] = typed.get(BEGUN, set())
    left = {(room, opening) for room, opening in begun if room not in house.by_name}
    called = called_now(folder, {room for room, _ in left})
    for room, opening in left:
        for field in ("words", "client"):
            before, now = _key(field, room, opening), _key(field, called[room], opening)
            if before in typed and now not in typed:
                typed[now] = typed.pop(before)


def _removing(name: str, remove: Callable[[str], None]) -> mo.ui.button:
    return mo.ui.button(label="Remove", on_click=lambda _: remove(name))


def view(noting: Noting, planned: Plan | None, dark: bool) -> mo.Html:
    """What is there today beside what is planned, what can be written and shown, and all that is noted of the room."""
    of_it = next((noted for noted in noting.found if noted.note.place == noting.note.place), None)
    others = [noted for noted in noting.found if noted is not of_it]
    head = pages.heading("What is there today: notes and photographs")
    parts: list[object] = [pages.show(head if noting.found or noting.faults else pages.on_screen(head))]
    if noting.faults:
        parts.append(pages.show(pages.note("alarm", "Not all notes can be shown.", pages.problems(noting.faults))))
    parts.append(noting.about)
    if of_it and planned:
        parts.append(pages.show(notes.beside(of_it, planned, dark)))
    parts += [noting.words, pages.beside(noting.save, noting.for_client, noting.upload)]
    if noting.said:
        said = pages.note("alarm", noting.said) if noting.refused else pages.element("p", noting.said, role="status")
        parts.append(pages.beside(pages.show(said), *([noting.back] if noting.back else [])))
    elif noting.back:
        parts.append(noting.back)
    if noting.remove:
        parts.append(_pictures(noting, of_it))
    if others:
        parts.append(pages.show(notes.listed(others)))
    return mo.vstack(parts, gap=0.75)


def _pictures(noting: Noting, of_it: Noted | None) -> mo.Html:
    """The photographs of the note, each with the button that removes it; one that cannot be read is named."""
    seen = {shown.name: shown for shown in of_it.photographs} if of_it else {}
    rows = [
        [
            name,
            notes.photograph(seen[name], of_it.title, notes.SMALL) if of_it and name in seen else "cannot be read",
            pages.control(button),
        ]
        for name, button in noting.remove.items()
    ]
    return pages.show(pages.table(["File", "Photograph", ""], rows, caption="Its photographs"))
