"""A plan as text that reads well in 80 columns."""

import textwrap
from collections.abc import Sequence

from planner.checks.check import Check
from planner.library.model import ORDER_CANON
from planner.planning.answer import Plan
from planner.takeoff.cost import LIBRARY_CURRENCY, Cost
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
    if intent.trim:
        lines += ["", "Trim rules:", *(_wrapped(f"{i}. {rule.words(unit)}") for i, rule in enumerate(intent.trim, 1))]
    if planned.choice and planned.choice.family:
        lines += [
            "",
            _wrapped(f"Mouldings are of one family, {planned.choice.family}, but for what follows, if anything."),
        ]
        lines += [_wrapped(text) for text in planned.choice.left]
    if planned.choice and planned.choice.shortfalls:
        lines += ["", "To have made:", *(_wrapped(text) for text in planned.choice.shortfalls)]
    if planned.choice and planned.choice.unproved:
        lines += ["", _wrapped(f"The choice from stock is {planned.choice.unproved}.")]
    unsteady = [p for p in planned.passages if p.reads in ("abrupt", "faint")]
    if unsteady:
        lines += ["", "Steps that do not read well:"]
        lines += [_wrapped(f"{p.start} to {p.end} ({p.kind}): {p.reads}, {p.difference:+d}") for p in unsteady]
    if planned.matches:
        lines += ["", "What stays, beside the same in other rooms of its tier:"]
        lines += [_wrapped(_match(match, unit)) for match in planned.matches]
    if repeated := [p for p in planned.passages if p.shared]:
        lines += ["", "Seen at once, and what the lower room repeats of the higher:"]
        lines += [
            _wrapped(f"{p.start} to {p.end} ({p.kind}), {p.difference:+d}: {'; '.join(p.shared)}") for p in repeated
        ]
    if planned.checks:
        lines += ["", "Checks:", *_checks(planned.checks)]
    return "\n".join(lines)


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
    if not planned.proposals:
        return "Nothing is proposed beside it: no other plan keeps every rule and truly differs."
    told = [f"{i}. {p.title}. {p.trade}" for i, p in enumerate(planned.proposals, 1)]
    return "\n".join(["Proposed beside it:", "", *map(_wrapped, told)])


def _checks(checks: Sequence[Check]) -> list[str]:
    """A line for each rule, with the first place where it applies and how many more there are."""
    by_rule: dict[tuple[str, str], list[Check]] = {}
    for check in checks:
        by_rule.setdefault((check.severity, check.rule), []).append(check)
    lines = []
    for (severity, _), (first, *others) in by_rule.items():
        where = f"{first.room}: " if first.room else ""
        more = f" ({len(others)} more like this)" if others else ""
        lines.append(_wrapped(f"{severity}: {where}{first.message}; {first.remedy}{more}"))
    return lines


def _figures(planned: Plan, money: bool) -> list[str]:
    """How good the assignment is and what it costs, by the index and, where asked for, in money."""
    proved, objective = "proved best" if planned.optimal else "not proved best", planned.objective
    figures = f"objective {objective.total:.3f} = fit {objective.fit:.3f} + abrupt {objective.abrupt:.3f}, {proved}"
    cost = planned.money if money else None
    return [
        _wrapped(f"{figures}; cost index {planned.cost:,.2f}"),
        *([_wrapped(money_words(cost))] if cost is not None else []),
    ]


def money_words(cost: Cost) -> str:
    """What a plan costs, with its range and what that rests on, in a line.

    Parameters
    ----------
    cost : of the plan.
    """
    rates = f"{len(cost.assumptions)} of {len(cost.figures)} rates are assumptions"
    foreign = " in US dollars" if cost.currency != LIBRARY_CURRENCY and cost.assumptions else ""
    spread = f"{cost.low:,.0f} to {cost.high:,.0f}, 10th to 90th percentile"
    return f"cost {cost.currency} {cost.total:,.0f} ({spread}); {rates}{foreign}"


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
