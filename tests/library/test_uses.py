"""The table of room uses: complete, within bounds, and every name told apart."""

from collections import Counter

import pytest

from tests.known import LIBRARY

USES = LIBRARY.uses
BY_NAME = {use.name: use for use in USES}


def test_covers_the_rooms_of_houses():
    assert len(BY_NAME) == len(USES) >= 40
    assert "other" in BY_NAME


@pytest.mark.parametrize("use", USES, ids=lambda use: use.name)
def test_row_is_complete_and_within_bounds(use):
    assert 0 <= use.public <= 1
    assert 1 <= use.lowest <= use.highest <= 5
    assert use.source.startswith("common practice")


def test_no_name_means_two_uses():
    counts = Counter(name for use in USES for name in (use.name, *use.synonyms))
    assert [name for name, count in counts.items() if count > 1] == []
    assert [name for name in counts if name != name.strip().lower()] == []


def test_common_rooms_are_more_public_than_private_ones():
    """Vitruvius VI.5: entrance courts are entered by right; bedrooms and baths by invitation."""
    common = [BY_NAME[name].public for name in ("vestibule", "entry hall", "stair hall")]
    private = [
        BY_NAME[name].public for name in ("principal bedroom", "guest bedroom", "bedroom", "bath", "principal bath")
    ]
    assert min(common) > max(private)


def test_what_no_guest_sees_stays_plain():
    """Common practice: trim money is not spent behind a shut service door (a wine cellar is shown off)."""
    assert [u.name for u in USES if not u.seen and not u.guest and u.highest > 2] == []


@pytest.mark.parametrize(("use", "highest"), [("closet", 1), ("bath", 3), ("bedroom", 3), ("principal bedroom", 4)])
def test_ceilings_of_practice(use, highest):
    assert BY_NAME[use].highest == highest


@pytest.mark.parametrize(
    ("lowest", "names"),
    [
        (4, ["drawing room", "parlor", "dining room", "ballroom"]),
        (3, ["living room", "sitting room", "family room", "library", "morning room"]),
        (2, ["bedroom", "guest bedroom", "principal bedroom", "dressing room"]),
        (1, ["kitchen", "bath", "closet", "back hall"]),
    ],
)
def test_lowest_tier_goes_by_the_rank_of_the_room(lowest, names):
    """Common practice: rooms for company over rooms to sit in, those over chambers, and service below them all."""
    assert {name: BY_NAME[name].lowest for name in names} == dict.fromkeys(names, lowest)
