"""The words in which clients are told of a house and asked about it, in the apps and in pages that are sent."""

from planner.intent.model import Intent
from planner.library import Library
from planner.record.decisions import AS_IT_STANDS
from planner.record.entries import Answer, ElementWish, Reply

WORDS = {"keep": "Keep it", "more": "A little richer", "less": "A little plainer"}
"""What a client may answer, by its name in the record."""

ANSWER_OF = {"plainer": "less", "planned": "keep", "richer": "more"}
"""What is answered by choosing one of the drawings of a room."""

MEASURE = "What trim costs is measured by how much of your walls it takes. That compares; it is no price yet."
"""What the costs are that clients are told: those of the cost index."""

TAKE_BACK = "Take this answer back"
"""What takes back what a client has said of a room."""

TRIM = (
    "Trim is what frames a room: the boards along the floor, the frames of doors and windows, the mouldings under the "
    "ceiling. The more dots, the richer it is. It is richest where guests arrive and gets plainer on the way to the "
    "bedrooms."
)
"""What it is all about."""


def reply_words(reply: Reply) -> str:
    """What the designer replied to an answer.

    >>> reply_words(Reply(who="Bert", alternative="", room="Library", to="a1", taken="pin"))
    'Your wish is taken into the plan.'
    """
    return reply.word or "Your wish is taken into the plan."


def title_of(intent: Intent) -> str:
    """What an alternative is called.

    >>> title_of(Intent(title="Formal", name="a")), title_of(Intent())
    ('Formal', 'As the house stands')
    """
    return intent.title or intent.name or AS_IT_STANDS.capitalize()


def wish_words(wish: ElementWish, library: Library) -> str:
    """A single wish.

    >>> from planner.library import standard
    >>> wish_words(ElementWish("chair rail", False), standard())
    'Without a rail at chair height'
    """
    kind = library.element_kinds.get(wish.element)
    return f"{'With' if wish.wanted else 'Without'} {kind.told if kind else wish.element}"


def answer_words(answer: Answer, library: Library) -> str:
    """What a client said of a room, but for the remark.

    >>> from planner.library import standard
    >>> wishes = (ElementWish("chair rail", False),)
    >>> answer_words(Answer(who="Ada", alternative="", room="Library", answer="more", wishes=wishes), standard())
    'a little richer, without a rail at chair height'
    """
    words = [WORDS.get(answer.answer, ""), *(wish_words(wish, library) for wish in answer.wishes)]
    return ", ".join(filter(None, words)).lower() or "in your words"


def dots(tier: int, most: int) -> str:
    """A tier as dots, so many of them filled, of as many as the richest room of the house can have.

    >>> dots(2, 5)
    '●●○○○'
    """
    return "●" * tier + "○" * (most - tier)


def richness(tier: int, most: int) -> str:
    """A tier in words, beside the most that a room of the house can have.

    >>> richness(2, 5)
    '2 of 5'
    """
    return f"{tier} of {most}"


def cost_change(change: float, whole: float) -> str:
    """What a change of the cost, to two decimals, is beside the cost of the whole house: the same in words, whether it
    is of one answer or of two plans.

    >>> cost_change(3.78, 189.0), cost_change(-0.05, 189.0), cost_change(0.001, 189.0)
    ('2.0 % more', 'less than 0.1 % less', 'as much as before')
    >>> cost_change(15.44, 160.0), cost_change(175.44 - 160.0, 160.0)
    ('9.7 % more', '9.7 % more')
    """
    change = round(change, 2)
    if not change or not whole:
        return "as much as before"
    share, way = abs(change) / whole, "more" if change > 0 else "less"
    return f"{share:.1%} {way}".replace("%", " %") if share >= 0.001 else f"less than 0.1 % {way}"
