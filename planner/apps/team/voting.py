"""What the team says of each alternative, by name: votes and remarks."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import marimo as mo

from planner.apps import houses, pages
from planner.apps.people import name_field
from planner.apps.presses import Anew
from planner.apps.team.rows import is_long
from planner.apps.typed import Typed, typed_again
from planner.files.problems import HouseFault, words_of
from planner.intent.renamed import moment
from planner.planning import frames
from planner.planning.answer import Plan
from planner.record.decisions import decisions
from planner.record.entries import AGAINST, FOR, WITHDRAWN, Decision, Remark, Stand, Vote, person
from planner.record.fingerprint import fingerprint_of
from planner.record.keeping import Record, keep, open_session, read_record
from planner.record.voices import votes

NAMELESS = "Write your name first, so that the others know who says it."
WORDLESS = "You have not written anything of it yet."
VOTELESS = "You have no vote on it that could be taken back."

STANDS: Mapping[Stand, str] = {FOR: "For it", AGAINST: "Against it", WITHDRAWN: "Take my vote back"}


@dataclass(frozen=True)
class Member:
    """A member of the team at the page: `plans` are those that are compared, by their alternatives' names; what is
    typed of one waits in `typed` by that name until it is said; `told` hears the record as it is after that, `said`
    when a remark was kept, `refused` why something was not. Controls that speak of an alternative are built `anew`.
    """

    folder: Path
    plans: Mapping[str, Plan]
    told: Callable[[Record], None]
    said: Callable[[object], None]
    refused: Callable[[str], None]
    visitor: str = ""
    typed: Typed = field(default_factory=Typed)
    anew: Anew = field(default_factory=Anew)

    def vote(self, alternative: str, stand: Stand) -> None:
        """Vote on an alternative; the later vote of one person holds."""
        held = {person(vote.who) for vote in votes(read_record(self.folder), alternative)}
        if stand == WITHDRAWN and self._who and person(self._who) not in held:
            self.refused(VOTELESS)
            return
        seen = fingerprint_of(self.plans[alternative])
        self._keep(lambda who: Vote(who=who, alternative=alternative, fingerprint=seen, vote=stand))

    def remark(self, alternative: str) -> None:
        """Say what was typed of an alternative."""
        words, seen = self.typed.text(alternative).strip(), fingerprint_of(self.plans[alternative])
        if not words:
            self.refused(WORDLESS)
        elif self._keep(lambda who: Remark(who=who, alternative=alternative, fingerprint=seen, remark=words)):
            self.typed.used(alternative)
            self.said(None)

    @property
    def _who(self) -> str:
        return (self.typed.who or "").strip()

    def _keep(self, entry: Callable[[str], Vote | Remark]) -> bool:
        who = self._who
        if not who:
            self.refused(NAMELESS)
            return False
        try:
            keep(open_session(self.folder, who, self.visitor), entry(who))
        except HouseFault as fault:
            self.refused(f"Not kept: {words_of(fault.problems)} What you typed is still here.")
            return False
        self.refused("")
        self.told(read_record(self.folder))
        return True


def member(
    folder: Path,
    plans: Mapping[str, Plan],
    told: Callable[[Record], None],
    said: Callable[[object], None],
    refused: Callable[[str], None],
) -> Member:
    """The member at a page, with what was typed in the same browser before the page was loaded again."""
    visitor = houses.visitor()
    typed = typed_again(visitor, str(folder), "team") if visitor else Typed()
    return Member(folder, plans, told, said, refused, visitor, typed)


def name(member: Member) -> mo.ui.text:
    """The field of the member's name."""
    return name_field(member.typed, "who says it")


IN_VIEW = "position: fixed; inset: 0 0 auto; z-index: 45; padding: 0.5rem 1.5rem; background: var(--pl-paper)"
"""A style for what must be seen wherever the page is."""


def refused(words: str) -> mo.Html | None:
    """Why something was not kept, at the head of the screen: what was pressed may stand far down the page."""
    return pages.show(pages.element("div", pages.note("alarm", words), style=IN_VIEW)) if words else None


Ballot = tuple[mo.ui.text_area, list[mo.ui.button]]
"""A field for a remark on an alternative, and the buttons to say it and to vote."""


def ballots(alternatives: Iterable[str], member: Member) -> dict[str, Ballot]:
    """The ballots of alternatives, by name: they stay as they are while what is known of these changes."""
    return member.anew(lambda: {name: _ballot(name, member) for name in alternatives})


def _ballot(alternative: str, member: Member) -> Ballot:
    words = mo.ui.text_area(
        value=member.typed.text(alternative),
        label="What you say of it",
        rows=2,
        full_width=True,
        debounce=False,
        on_change=member.typed.into(alternative),
    )
    buttons = [mo.ui.button(label=label, on_click=_voting(member, alternative, way)) for way, label in STANDS.items()]
    return words, [mo.ui.button(label="Say it", on_click=lambda _: member.remark(alternative)), *buttons]


def _voting(member: Member, alternative: str, stand: Stand) -> Callable[[object], None]:
    return lambda _: member.vote(alternative, stand)


def view(standing: Sequence[Plan], record: Record, ballots: Mapping[str, Ballot], width: int) -> mo.Html:
    """Each alternative with the decision on it, its votes and remarks by name, and the controls to add one's own, where
    it has any yet; many are folded away on a narrow screen, each under its name and its votes.
    """
    found: list[object] = []
    for title, planned in zip(frames.alternative_titles(standing), standing, strict=True):
        count, lines = _count(record, planned), _told(record, planned)
        words, buttons = ballots.get(planned.intent.name, (None, []))
        controls = [words, pages.beside(*buttons)] if words is not None else []
        if is_long(width, len(standing)):
            found.append(pages.show(pages.folded(f"{title}: {count}", lines, *map(pages.control, controls))))
        else:
            said = pages.element("div", pages.element("p", f"Votes: {count}"), lines)
            found += [pages.show(pages.heading(title), said), *controls]
    return mo.vstack(found)


def _count(record: Record, planned: Plan) -> str:
    """How many are for an alternative and how many against."""
    held = votes(record, planned.intent.name)
    return " · ".join(f"{sum(vote.vote == stand for vote in held)} {stand}" for stand in (FOR, AGAINST))


def _told(record: Record, planned: Plan) -> pages.Markup:
    """The decision on an alternative that holds, and the votes and remarks on it, by name."""
    alternative, now = planned.intent.name, fingerprint_of(planned)
    lines = [_decided(decision, now) for decision in decisions(record) if decision.alternative == alternative]
    lines += [f"{vote.who}: {vote.vote}{_since(vote.fingerprint, now)}" for vote in votes(record, alternative)]
    lines += [
        f"{said.who}: {said.remark}{_since(said.fingerprint, now)}"
        for said in record.remarks
        if said.alternative == alternative
    ]
    return pages.listed(lines) if lines else pages.Markup("")


def _decided(decision: Decision, now: str) -> str:
    """Who has decided on an alternative, when and why."""
    why = f": {decision.remark}" if decision.remark else ""
    day = f"{moment(decision.time):%d %B %Y}"
    return f"{decision.who} has decided on it, {day}{why}{_since(decision.fingerprint, now)}"


def _since(then: str, now: str) -> str:
    """Whether something was said of the alternative as it is now."""
    return "" if not then or then == now else " (of an earlier state)"
