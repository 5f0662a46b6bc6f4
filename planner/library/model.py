"""The library: all that the trade knows, as one value that is passed to whoever needs it."""

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property

from planner.library.fixture_rows import FixtureKind, StairRules
from planner.library.job_rows import Job
from planner.library.joinery_rows import Joinery, Panelling
from planner.library.rate_rows import Rate
from planner.library.rows import (
    CheckRule,
    Grade,
    Ladder,
    Leaf,
    Leaves,
    Lights,
    OpeningSize,
    PassageKind,
    RoomSize,
    StepRules,
    Use,
)
from planner.library.shop_rows import Building, BuiltUp, MantelForm, MeetingRule, Surrounds
from planner.library.takeoff_rows import Takeoff
from planner.library.trim_rows import (
    ElementKind,
    Enrichment,
    Form,
    FormMembers,
    Interior,
    Moulding,
    Order,
    Orders,
    Places,
    Style,
)
from planner.units import listed
from planner.values import Kept, immutabledict

OTHER_USE = "other"
"""The use that a room of no known use reads as."""

NO_FORM = "none"
"""What stands for a form where there is none of an element."""

ORDER_CANON = "order"
"""The canon of sizes where no other is chosen: the order that fills the ceiling's height."""


@dataclass(frozen=True)
class Library(Kept):
    """What the trade knows, table by table (see planner.library.rows); `standard()` is the one that comes along.

    Another is made from it with ``dataclasses.replace``. Every look-up by name raises ValueError, with the nearest
    names, where there is none.
    """

    uses: tuple[Use, ...]
    room_sizes: tuple[RoomSize, ...]
    passages: tuple[PassageKind, ...]
    opening_sizes: tuple[OpeningSize, ...]
    hung: Leaves
    ladder: Ladder
    steps: StepRules
    elements: tuple[ElementKind, ...]
    places: Places
    forms: tuple[Form, ...]
    form_members: FormMembers
    enrichments: tuple[Enrichment, ...]
    mouldings: tuple[Moulding, ...]
    orders: Orders
    styles: tuple[Style, ...]
    surrounds: Surrounds
    building: Building
    fixtures: tuple[FixtureKind, ...]
    stairs: StairRules
    joinery: Joinery
    rates: tuple[Rate, ...]
    takeoff: Takeoff
    checks: tuple[CheckRule, ...]
    job: Job

    __hash__ = Kept.__hash__

    def use(self, name: str) -> Use:
        """The use of that name; any other reads as "other"."""
        return self._uses.get(name) or self._uses[OTHER_USE]

    def use_read(self, words: str) -> Use | None:
        """The use that a name or a synonym reads as, whatever its case and blanks; None where it is none."""
        return self.readings.get(" ".join(words.casefold().split()))

    @cached_property
    def readings(self) -> immutabledict[str, Use]:
        """The use that each name or synonym reads as."""
        return immutabledict({name: use for use in self.uses for name in (use.name, *use.synonyms)})

    def room_size(self, use: str) -> RoomSize:
        """The usual size of a room of a use; of one that has none, that of "other"."""
        sizes = {row.use: row for row in self.room_sizes}
        return sizes.get(use) or sizes[OTHER_USE]

    def passage(self, kind: str) -> PassageKind:
        """A kind of passage."""
        return self.passage_kinds[known_name(kind, self.passage_kinds, "passage")]

    @cached_property
    def passage_kinds(self) -> immutabledict[str, PassageKind]:
        """The kinds of passage by name, widest first."""
        return immutabledict({row.kind: row for row in self.passages})

    @cached_property
    def opening_kinds(self) -> immutabledict[str, OpeningSize]:
        """Every kind of opening with its common size: passages, widest first, then what leads nowhere."""
        sizes = {row.kind: row for row in self.opening_sizes}
        return immutabledict({kind: sizes[kind] for kind in (*self.passage_kinds, *sizes)})

    @cached_property
    def fixture_kinds(self) -> immutabledict[str, FixtureKind]:
        """Every kind of fixture by name."""
        return immutabledict({row.kind: row for row in self.fixtures})

    @cached_property
    def rate_names(self) -> immutabledict[str, Rate]:
        """Every rate by name."""
        return immutabledict({row.name: row for row in self.rates})

    @cached_property
    def grade_names(self) -> tuple[str, ...]:
        """Names of the grades of houses, the plainest first."""
        return tuple(self._grades)

    def grade(self, name: str) -> Grade:
        """A grade of house."""
        return self._grades[known_name(name, self._grades, "grade")]

    def element(self, name: str) -> ElementKind:
        """A kind of element."""
        return self.element_kinds[known_name(name, self.element_kinds, "element")]

    @cached_property
    def element_kinds(self) -> immutabledict[str, ElementKind]:
        """The elements of the ladder by name, in the order in which they are shown."""
        return immutabledict({row.name: row for row in self.elements})

    def form(self, element: str, name: str) -> Form:
        """A form of an element."""
        known = {form.name: form for form in self._forms.get(element, ())}
        return known[known_name(name, known, f"form of {element}")]

    def form_names(self, element: str) -> tuple[str, ...]:
        """Names of the forms of an element."""
        return tuple(form.name for form in self._forms.get(element, ()))

    def enrichment(self, name: str) -> Enrichment:
        """An enrichment."""
        return self._enrichments[known_name(name, self._enrichments, "enrichment")]

    def moulding(self, name: str) -> Moulding:
        """The kind of member of that name, or of another name of the trade, whatever its case and blanks.

        Raises
        ------
        ValueError : no such kind; the message gives the nearest.
        """
        wanted = " ".join(name.lower().split())
        found = self._mouldings.get(wanted)
        if found is None:
            near = get_close_matches(wanted, self._mouldings, 3, 0.6)
            known = ", ".join(row.kind for row in self.mouldings)
            hint = f"did you mean {' or '.join(near)}?" if near else f"known are {known}"
            raise ValueError(f"no moulding is called {name.strip()!r}; {hint}")
        return found

    @cached_property
    def order_names(self) -> tuple[str, ...]:
        """Names of the orders, plainest first."""
        return tuple(self._orders)

    def order(self, name: str) -> Order:
        """An order."""
        return self._orders[known_name(name, self._orders, "order")]

    @cached_property
    def canon_names(self) -> tuple[str, ...]:
        """What crowns can be sized by: the order that fills the ceiling, or a canon for rooms."""
        return (ORDER_CANON, *(interior.name for interior in self.orders.interiors))

    def interior(self, canon: str) -> Interior | None:
        """The canon for rooms of that name; None for the order's own."""
        known_name(canon, self.canon_names, "canon")
        return next((interior for interior in self.orders.interiors if interior.name == canon), None)

    @cached_property
    def style_names(self) -> tuple[str, ...]:
        """Names of the styles, as users write them, sorted."""
        return tuple(sorted(self._styles))

    def style(self, name: str) -> Style:
        """A period."""
        return self._styles[known_name(name, self._styles, "style")]

    def meeting(self, kind: str) -> MeetingRule:
        """How trim meets in a kind of passage."""
        return self._meetings[known_name(kind, self._meetings, "passage")]

    @property
    def leaves(self) -> tuple[Leaf, ...]:
        """The kinds of leaf that doors have."""
        return self.hung.leaves

    @property
    def lights(self) -> tuple[Lights, ...]:
        """How many lights a sash may have, and how they stand."""
        return self.hung.lights

    def leaf(self, name: str) -> Leaf:
        """A kind of leaf."""
        return self._leaves[known_name(name, self._leaves, "leaf")]

    def lights_of(self, pattern: str) -> tuple[Lights, ...] | None:
        """The lights of the upper and the lower sash, or of a single one; None where the words are no such pattern.

        >>> from planner.library import standard
        >>> [one.columns for one in standard().lights_of("6/2")], standard().lights_of("7/7")
        ([3, 2], None)
        """
        found = [self._lights.get(part) for part in pattern.split("/")]
        known = tuple(one for one in found if one is not None)
        return known if len(known) == len(found) <= 2 else None

    def mantel(self, form: str) -> MantelForm:
        """How a form of mantel is made up."""
        return self._mantels[known_name(form, self._mantels, "form of mantel")]

    def built_ups(self, element: str, form: str = "") -> tuple[BuiltUp, ...]:
        """The ways to build an element in a form, or in any."""
        return tuple(b for b in self._built_ups.get(element, ()) if not form or form in b.forms)

    def panelling(self, element: str, form: str) -> Panelling | None:
        """How a form of wainscot or of wall panels is put together; None for one that is boards."""
        return next((row for row in self.joinery.panelling if (row.element, row.form) == (element, form)), None)

    @cached_property
    def role_names(self) -> tuple[str, ...]:
        """What a profile of the stock can be for."""
        return tuple(role.name for role in self.building.roles)

    def check(self, name: str) -> CheckRule:
        """A rule that plans are held against."""
        return self._checks[known_name(name, self._checks, "rule")]

    @cached_property
    def _uses(self) -> immutabledict[str, Use]:
        return immutabledict({use.name: use for use in self.uses})

    @cached_property
    def _grades(self) -> immutabledict[str, Grade]:
        return immutabledict({grade.name: grade for grade in self.ladder.grades})

    @cached_property
    def _forms(self) -> immutabledict[str, tuple[Form, ...]]:
        found: dict[str, tuple[Form, ...]] = {}
        for form in self.forms:
            found[form.element] = (*found.get(form.element, ()), form)
        return immutabledict(found)

    @cached_property
    def _enrichments(self) -> immutabledict[str, Enrichment]:
        return immutabledict({row.name: row for row in self.enrichments})

    @cached_property
    def _mouldings(self) -> immutabledict[str, Moulding]:
        also = {name: row for row in self.mouldings for name in row.also}
        return immutabledict({row.kind: row for row in self.mouldings} | also)

    @cached_property
    def _orders(self) -> immutabledict[str, Order]:
        return immutabledict({order.name: order for order in self.orders.orders})

    @cached_property
    def _styles(self) -> immutabledict[str, Style]:
        return immutabledict({style.name: style for style in self.styles})

    @cached_property
    def _meetings(self) -> immutabledict[str, MeetingRule]:
        return immutabledict({row.kind: row for row in self.surrounds.meetings})

    @cached_property
    def _leaves(self) -> immutabledict[str, Leaf]:
        return immutabledict({leaf.name: leaf for leaf in self.leaves})

    @cached_property
    def _lights(self) -> immutabledict[str, Lights]:
        return immutabledict({str(one.count): one for one in self.lights})

    @cached_property
    def _mantels(self) -> immutabledict[str, MantelForm]:
        return immutabledict({row.form: row for row in self.surrounds.mantels})

    @cached_property
    def _built_ups(self) -> immutabledict[str, tuple[BuiltUp, ...]]:
        found: dict[str, tuple[BuiltUp, ...]] = {}
        for way in self.building.built_ups:
            for element in way.elements:
                found[element] = (*found.get(element, ()), way)
        return immutabledict(found)

    @cached_property
    def _checks(self) -> immutabledict[str, CheckRule]:
        return immutabledict({rule.name: rule for rule in self.checks})


MOST_NAMED = 12
"""Where there are more names than this, only some are told to somebody who wrote none of them."""


def known_name(name: str, known: Iterable[str], what: str) -> str:
    """The name itself where it is known.

    Raises
    ------
    ValueError : where it is not, with the nearest names, or where none is near those that there are.

    >>> known_name("Doric", ("tuscan", "doric"), "order")
    Traceback (most recent call last):
    ValueError: unknown order 'Doric'; did you mean 'doric'?
    >>> known_name("gothic", ("tuscan", "doric"), "order")
    Traceback (most recent call last):
    ValueError: unknown order 'gothic'; there are 'tuscan' and 'doric'
    """
    if name in known:
        return name
    folded = {other.casefold(): other for other in known}
    near = get_close_matches(str(name).strip().casefold(), folded, n=3)
    if near:
        raise ValueError(f"unknown {what} {name!r}; did you mean {' or '.join(repr(folded[each]) for each in near)}?")
    names = [repr(other) for other in folded.values()]
    there = listed(names) or "none" if len(names) <= MOST_NAMED else f"{len(names):,}, among them {listed(names[:3])}"
    raise ValueError(f"unknown {what} {name!r}; there are {there}")
