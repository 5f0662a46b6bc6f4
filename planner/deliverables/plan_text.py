"""A plan as text that reads well in 80 columns."""

import textwrap
from collections.abc import Iterable, Sequence

from planner.checks.check import Check
from planner.library.model import ORDER_CANON
from planner.planning.answer import PassagePlan, Plan
from planner.stock.choice import Choice
from planner.takeoff.cost import Cost
from planner.trim.existing import Match
from planner.units import Unit, format_length, format_size

WIDTH = 80


def plan_table(planned: Plan, *, money: bool = False) -> str:
    """A plan in 80 columns: rooms from the most formal down, its figures, its trim rules, what does not read well, its
    checks.

    Parameters
    ----------
    planned : the plan.
    money : whether to tell what it costs, which takes longer than the plan.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> print(plan_table(plan(read_house(demo_house())[0])).splitlines()[0])
    Thornapple House, the house as it is
    """
    intent, unit = planned.intent, planned.house.unit
    title = f"{planned.house.name}, {intent.title or intent.name or 'the house as it is'}"
    canon = (planned.canon,) if planned.canon != ORDER_CANON else ()
    lines = [_cut(title, WIDTH), _cut(", ".join((planned.style, planned.order, *canon, planned.grade)), WIDTH), ""]
    if not planned.feasible:
        lines += ["No plan keeps all of these; loosen one of them:", ""]
        return "\n".join(lines + [_wrapped(f"{i}. {text}") for i, text in enumerate(planned.conflicts, 1)])
    lines += [f"{'room':<31} {'tier':<15} {'target':>6} {'depth':>5} {'ceiling':>9} {'trim':>5}", "-" * 76]
    for room in sorted(planned.rooms, key=lambda r: (-r.tier, -r.importance, r.room.name)):
        tier = f"{room.tier} {planned.tier_names[room.tier - 1]}{' (pin)' if room.pinned else ''}"
        ceiling = format_length(room.room.ceiling, unit)
        share = f"{room.package.trim_share:.0%}"
        name = _cut(room.room.name, 31)
        lines.append(f"{name:<31} {tier:<15} {room.target:>6.2f} {room.depth:>5} {ceiling:>9} {share:>5}")
    lines += ["", *_figures(planned, money)]
    lines += [_wrapped(note) for note in planned.notes]
    lines += _part("Trim rules:", (f"{i}. {rule.words(unit)}" for i, rule in enumerate(intent.trim, 1)))
    lines += _chosen(planned.choice) if planned.choice else []
    unsteady = [p for p in planned.passages if p.reads in ("abrupt", "faint")]
    lines += _part("Steps that do not read well:", (f"{_passage(p)}: {p.reads}, {p.difference:+d}" for p in unsteady))
    matches = (_match(match, unit) for match in planned.matches)
    lines += _part("What stays, beside the same in other rooms of its tier:", matches)
    repeated = (f"{_passage(p)}, {p.difference:+d}: {'; '.join(p.shared)}" for p in planned.passages if p.shared)
    lines += _part("Seen at once, and what the lower room repeats of the higher:", repeated)
    lines += _part("Checks:", _checks(planned.checks))
    return "\n".join(lines)


def _part(title: str, told: Iterable[str]) -> list[str]:
    """Lines under a title, after a blank one; none where there is nothing to tell."""
    lines = [*map(_wrapped, told)]
    return ["", title, *lines] if lines else []


def _chosen(choice: Choice) -> list[str]:
    """What there is to say of the choice from stock."""
    family = f"Mouldings are of one family, {choice.family}, but for what follows, if anything."
    lines = _part(_wrapped(family), choice.left) or ["", _wrapped(family)] if choice.family else []
    lines += _part("To have made:", choice.shortfalls)
    return lines + (["", _wrapped(f"The choice from stock is {choice.unproved}.")] if choice.unproved else [])


def _passage(passage: PassagePlan) -> str:
    return f"{passage.start} to {passage.end} ({passage.kind})"


def proposals_table(planned: Plan) -> str:
    """What is proposed beside a plan, each with what it trades for what, in 80 columns, without a final newline.

    Parameters
    ----------
    planned : the plan.

    Examples
    --------
    >>> from planner import demo_house, plan, read_house
    >>> print(proposals_table(plan(read_house(demo_house())[0])).splitlines()[0])
    Proposed beside it:
    """
    not_found = not_proposed(planned)
    more = ["", _wrapped(not_found)] if not_found else []
    if not planned.proposals:
        none = NONE if not not_found else "Nothing is proposed beside it."
        return "\n".join([none, *more])
    told = [f"{i}. {p.title}. {p.trade}" for i, p in enumerate(planned.proposals, 1)]
    return "\n".join(["Proposed beside it:", "", *map(_wrapped, told), *more])


NONE = "Nothing is proposed beside it: no other plan keeps every rule and truly differs."


def not_proposed(planned: Plan) -> str:
    """What is not proposed because it would take too long to find, in a sentence; "" where nothing is left out."""
    if not planned.not_proposed:
        return ""
    return f"Not looked for to the end, since it would take too long in this house: {'; '.join(planned.not_proposed)}."


def _checks(checks: Sequence[Check]) -> list[str]:
    """A line for each rule, with the first place where it applies and how many more there are."""
    by_rule: dict[tuple[str, str], list[Check]] = {}
    for check in checks:
        by_rule.setdefault((check.severity, check.rule), []).append(check)
    lines = []
    for (severity, _), (first, *others) in by_rule.items():
        where = f"{first.room}: " if first.room else ""
        more = f" ({len(others)} more like this)" if others else ""
        lines.append(f"{severity}: {where}{first.message}; {first.remedy}{more}")
    return lines


def _figures(planned: Plan, money: bool) -> list[str]:
    """How good the assignment is and what it costs, by the index and, where asked for, in money."""
    proved, objective = "proved best" if planned.optimal else "not proved best", planned.objective
    figures = f"objective {objective.total:.3f} = fit {objective.fit:.3f} + abrupt {objective.abrupt:.3f}, {proved}"
    cost = planned.money if money else None
    most = f" of a budget of {budget:,.2f}" if (budget := planned.problem.budget) is not None else ""
    counted = f"; rooms by themselves {planned.currency} {planned.spent:,.2f}{most}" if planned.currency else most
    return [
        _wrapped(f"{figures}; cost index {planned.cost:,.2f}{counted}"),
        *([_wrapped(money_words(cost))] if cost is not None else []),
    ]


def money_words(cost: Cost) -> str:
    """What a plan costs, with its range and what that rests on, in a line.

    Parameters
    ----------
    cost : of the plan.
    """
    rates = f"{len(cost.assumptions)} of {len(cost.figures)} rates are assumptions"
    foreign = " in US dollars" if cost.foreign else ""
    spread = f"{cost.low:,.0f} to {cost.high:,.0f}, 10th to 90th percentile"
    unpriced = f"; {cost.currency} {cost.by_rates:,.0f} of material has no price in the stock" if cost.by_rates else ""
    return f"cost {cost.currency} {cost.total:,.0f} ({spread}); {rates}{foreign}{unpriced}"


def _match(match: Match, unit: Unit) -> str:
    """One line on how near what stays comes to what is planned."""
    kept, planned = (
        f"{format_size(size, unit)} {form}" if size else form
        for size, form in ((match.kept, match.kept_form), (match.planned, match.planned_form))
    )
    apart = abs(match.difference)
    if not match.kept or not match.planned:
        near = "neither has it" if kept == planned else "only one has it"
    elif apart >= 1 / 32:
        near = f"{format_size(apart, unit)} {'larger' if match.difference > 0 else 'smaller'}"
    else:
        near = "the same" if match.kept_form == match.planned_form else "the same size"
    near += f", of the family {match.family}" if match.family else ""
    return f"{match.room}, {match.element}: {kept}; {match.other}: {planned} ({near})"


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "…"


def _wrapped(text: str) -> str:
    return textwrap.fill(text, WIDTH, subsequent_indent="   ")
