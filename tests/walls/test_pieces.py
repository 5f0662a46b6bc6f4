"""Every piece that is nailed up: each run once, ends told from what they meet, lengths worked by hand.

Common practice unless a test says otherwise: base and rails are coped in inside corners and mitred round outside ones,
square against casings and blocks, returned upon the wall where an opening has no casing.
"""

from collections import defaultdict
from dataclasses import replace
from math import radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import demo_house, read_house, read_stock
from planner.house.model import OUTSIDE, Opening, Room
from planner.library import standard
from planner.planning.pipeline import plan
from planner.trim.sections import sections
from planner.walls.cuts import RETURNED, SQUARE, Cut, Joint, measured
from planner.walls.layout import lay_out
from planner.walls.parts import BEHIND, BOARDS, FRAME, PANELS, RUNS, Part, Side
from planner.walls.piece import Piece, Place
from planner.walls.pieces import MADE_UP, pieces
from planner.walls.runs import INSIDE_CORNERS
from planner.walls.solids import Solid
from planner.walls.wainscot import MOULD
from tests.known import package
from tests.walls.houses import random_house
from tests.walls.rooms import HOUSE, L_SHAPED, PARLOR, alone
from tests.walls.trim import altered, trim, without

LIBRARY = standard()
STATE = trim(5)


def cut_list(package_=STATE, house=HOUSE, room="Parlor"):
    return pieces(lay_out(house, room, package_, LIBRARY), LIBRARY)


def on(found, wall, *parts):
    return sorted((p for p in found if p.place.wall == wall and p.part in parts), key=lambda p: p.place.x0)


def joints(found):
    return [tuple(cut.joint for cut in p.ends) for p in found]


# Runs


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 400), st.sampled_from(LIBRARY.style_names), st.integers(1, 5))
def test_pieces_cover_every_run_once_and_only_once(seed, style, tier):
    """Laid along the wall, the pieces of what runs give just the spans of the solids."""
    house = random_house(seed)
    for room in house.rooms:
        layouts = lay_out(house, room, package(style, "doric", tier, room.ceiling, top=5), LIBRARY)
        runs, laid = defaultdict(list), defaultdict(list)
        for wall in layouts:
            for s in wall.solids:
                if s.part in RUNS:
                    runs[wall.wall, s.part, s.form].append((s.x0, s.x1, s.y0, s.y1))
        for p in pieces(layouts, LIBRARY):
            if p.part in RUNS:
                laid[p.place.wall, p.part, p.form].append((p.place.x0, p.place.x1, p.place.y0, p.place.y1))
        assert laid == runs


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 400), st.sampled_from(LIBRARY.style_names), st.integers(1, 5))
def test_whatever_stands_on_a_wall_has_its_piece(seed, style, tier):
    """Each solid that is no run and no field has one piece of its size; boards and moulds fill what they belong to."""
    house = random_house(seed)
    for room in house.rooms:
        layouts = lay_out(house, room, package(style, "doric", tier, room.ceiling, top=5), LIBRARY)
        found = pieces(layouts, LIBRARY)
        assert all(p.length > 0 and p.width > 0 and p.place.room == room.name for p in found)
        standing = [s for w in layouts for a in w.surrounds for s in a.solids]
        standing += [s for w in layouts for s in w.solids if not s.opening]
        apart = BOARDS | BEHIND | set(MADE_UP)
        single = [s for s in standing if s.part not in apart | {Part.WALL_PANEL}]
        made = [p for p in found if p.part not in apart | {Part.PANEL_MOULD, Part.RETURN}]
        extra = [p for p in made if p.element == "wall panels"]
        assert len(made) - len(extra) == len(single)
        fields = [s for s in standing if s.part in PANELS or s.part is Part.WALL_PANEL]
        assert len([p for p in found if p.part is Part.PANEL_MOULD]) == 4 * len(fields)
        boards = [p.place for p in found if p.part in BOARDS]
        mantels = [p.place.y1 - p.place.y0 for p in found if p.part in MADE_UP]
        assert sum(mantels) == pytest.approx(sum(s.height for s in standing if s.part in MADE_UP))
        covered = sum((at.x1 - at.x0) * (at.y1 - at.y0) for at in boards)
        assert covered == pytest.approx(sum(s.width * s.height for s in standing if s.part in BOARDS))


def test_in_an_inside_corner_the_left_run_is_square_and_the_right_one_coped():
    found = cut_list(house=alone(PARLOR))
    for wall in "NESW":
        for part in (Part.BASE, Part.CHAIR_RAIL, Part.CROWN):
            assert set(joints(on(found, wall, part))) == {(Joint.COPE, Joint.SQUARE)}
            assert {p.ends[0].through for p in on(found, wall, part)} == {-45}
            assert {p.length for p in on(found, wall, part)} == {216 if wall in "NS" else 168}


def test_every_run_has_a_rule_for_inside_corners_and_a_shelf_is_mitred():
    assert set(INSIDE_CORNERS) == RUNS
    (shelf,) = on(cut_list(trim(5, style="craftsman"), alone(PARLOR)), "N", Part.PLATE_RAIL)
    assert shelf.ends == (Cut(Joint.INSIDE, through=-45), Cut(Joint.INSIDE, through=-45))
    assert shelf.length == 216


def test_an_outside_corner_is_mitred_by_half_its_turn_and_the_face_is_the_longer():
    found = cut_list(house=alone(L_SHAPED), room="Ell")
    for element, part in (("base", Part.BASE), ("chair rail", Part.CHAIR_RAIL)):
        before, after = (on(found, wall, part)[0] for wall in ("3", "4"))
        assert before.ends == (Cut(Joint.COPE, through=-45), Cut(Joint.OUTSIDE, through=45))
        assert after.ends == (Cut(Joint.OUTSIDE, through=45), SQUARE)
        out = STATE.element(element).projection
        assert (before.length, after.length) == pytest.approx((120 + out, 120 + out))
        assert (before.place.x0, before.place.x1) == (0, 120)


def test_obtuse_corners_turn_by_less():
    """Corners of 135, 90 (three), 270 and 45 degrees: one cope in each inside one, two mitres round the outside one."""
    bay = replace(
        PARLOR, outline=((0.0, 0.0), (0.0, 100.0), (50.0, 150.0), (100.0, 100.0), (150.0, 150.0), (150.0, 0.0))
    )
    found = [p for p in cut_list(house=alone(bay)) if p.part is Part.BASE]
    turns = sorted(abs(cut.through) for p in found for cut in p.ends if cut.joint is not Joint.SQUARE)
    assert turns == pytest.approx([22.5, 45, 45, 45, 45, 45, 67.5])
    out = STATE.element("base").projection
    long = [p for p in found if any(cut.joint is Joint.OUTSIDE for cut in p.ends)]
    for p in long:
        past = sum(out * tan(radians(cut.through)) for cut in p.ends if cut.joint is Joint.OUTSIDE)
        assert p.length == pytest.approx(p.place.x1 - p.place.x0 + past)
        assert past > 0


def test_a_chamfered_corner_is_mitred_twice_by_half_as_much():
    """Two outside corners of 225 degrees: each end is cut at 22 1/2, and the face longer by projection x tan 22 1/2."""
    chamfered = replace(
        L_SHAPED,
        outline=(
            (0.0, 0.0),
            (0.0, 240.0),
            (120.0, 240.0),
            (120.0, 150.0),
            (150.0, 120.0),
            (240.0, 120.0),
            (240.0, 0.0),
        ),
    )
    (short,) = on(cut_list(house=alone(chamfered), room="Ell"), "4", Part.BASE)
    assert [cut.joint for cut in short.ends] == [Joint.OUTSIDE, Joint.OUTSIDE]
    assert [cut.through for cut in short.ends] == pytest.approx([22.5, 22.5])
    out = STATE.element("base").projection
    assert short.length == pytest.approx(1800**0.5 + 2 * out * tan(radians(22.5)))


@pytest.mark.parametrize("bulge", [0.0, 0.5, -0.5])
def test_a_run_that_goes_all_but_straight_on_is_square(bulge):
    straight = replace(PARLOR, outline=((0.0, 0.0), (bulge, 84.0), (0.0, 168.0), (216.0, 168.0), (216.0, 0.0)))
    found = cut_list(house=alone(straight))
    assert joints(on(found, "1", Part.BASE)) == [(Joint.COPE, Joint.SQUARE)]
    assert joints(on(found, "2", Part.BASE)) == [(Joint.SQUARE, Joint.SQUARE)]


def test_a_turn_of_two_degrees_is_cut():
    turned = replace(PARLOR, outline=((0.0, 0.0), (1.5, 84.0), (0.0, 168.0), (216.0, 168.0), (216.0, 0.0)))
    found = cut_list(house=alone(turned))
    assert joints(on(found, "1", Part.BASE)) == [(Joint.COPE, Joint.OUTSIDE)]


def test_a_run_is_square_against_casings_blocks_and_chimneypieces():
    found = cut_list()
    for wall in "NE":
        assert joints(on(found, wall, Part.BASE)) == [(Joint.COPE, Joint.SQUARE), (Joint.SQUARE, Joint.SQUARE)]


def test_a_run_returns_upon_the_wall_at_an_opening_without_a_casing():
    found = cut_list()
    for part in (Part.BASE, Part.CHAIR_RAIL, Part.CROWN):
        first, *_, last = on(found, "W", part)
        assert (first.ends[1], last.ends[0]) == (RETURNED, RETURNED)
        assert (first.place.x1, last.place.x0) == (40, 100)
        assert first.length == 40
    bare = cut_list(without(STATE, "casing", "window casing", "plinth block", "backband"))
    assert joints(on(bare, "N", Part.BASE)) == [(Joint.COPE, Joint.RETURN), (Joint.RETURN, Joint.SQUARE)]


def test_each_returned_end_has_its_short_piece():
    found = cut_list(without(STATE, "wainscot", "wall panels"))
    base = STATE.element("base")
    left, right = [p for p in on(found, "W", Part.RETURN) if p.element == "base"]
    assert (left.side, right.side) == (Side.RIGHT, Side.LEFT)
    assert left.ends == (Cut(Joint.MITRE, through=45), SQUARE) and right.ends == left.ends[::-1]
    assert {(p.length, p.width) for p in (left, right)} == {(base.projection, base.size)}
    assert (left.place.x0, left.place.x1, right.place.x0) == (40, 40, 100)
    assert left.note == "returns the base upon the wall" and left.name == "right return"
    for p in found:
        ends = sum(cut.joint is Joint.RETURN for q in found for cut in q.ends if q.place.wall == p.place.wall)
        assert ends == len(on(found, p.place.wall, Part.RETURN))


def test_a_run_that_meets_nothing_in_a_corner_is_square_inside_and_returned_outside():
    """A gap that takes the whole next wall leaves no base there to cope to or to mitre with."""
    north = alone(PARLOR, Opening("Gap", "open", "Parlor", OUTSIDE, "N", 0.0, 216.0, 120.0))
    found = cut_list(house=north)
    assert on(found, "N", Part.BASE) == []
    assert joints(on(found, "E", Part.BASE)) == [(Joint.SQUARE, Joint.SQUARE)]
    assert joints(on(found, "W", Part.BASE)) == [(Joint.COPE, Joint.SQUARE)]
    round_it = alone(L_SHAPED, Opening("Gap", "open", "Ell", OUTSIDE, "4", 0.0, 120.0, 120.0))
    found = cut_list(house=round_it, room="Ell")
    assert on(found, "3", Part.BASE)[0].ends[1] == RETURNED
    assert on(found, "3", Part.BASE)[0].length == 120


def test_a_gap_that_just_reaches_the_crown_returns_all_its_parts():
    bottom = 120 - STATE.element("crown").size
    openings = tuple(replace(o, height=bottom + 1) if o.name == "Gap" else o for o in HOUSE.openings)
    found = on(cut_list(house=replace(HOUSE, openings=openings)), "W", Part.CROWN)
    assert len(found) == 2 * len(STATE.element("crown").parts)
    assert set(joints(found)) == {(Joint.COPE, Joint.RETURN), (Joint.RETURN, Joint.SQUARE)}


def test_a_crown_runs_on_where_the_base_stops():
    openings = tuple(replace(o, height=84.0) if o.name == "Gap" else o for o in HOUSE.openings)
    found = cut_list(house=replace(HOUSE, openings=openings))
    assert set(joints(on(found, "W", Part.CROWN))) == {(Joint.COPE, Joint.SQUARE)}
    assert RETURNED in on(found, "W", Part.BASE)[0].ends


# Round openings


def test_a_carpenters_list_for_one_door():
    """36 x 84 in door, ears mitred, plinth blocks: what is cut, from which width, and how its ends are."""
    found = [p for p in cut_list() if p.place.opening == "D"]
    casing, plinth = STATE.element("casing"), STATE.element("plinth block")
    names = [p.name for p in found]
    assert names.count("left leg") == names.count("right leg") == names.count("head") == 1
    by_name = {p.name: p for p in found}
    assert by_name["left plinth block"].length == plinth.size
    assert by_name["left plinth block"].width == casing.size + LIBRARY.style("georgian").plinth.proud
    assert [cut.words for cut in by_name["left leg"].ends] == ["square", "45°"]
    assert by_name["left return under the ear"].note == "both mitres parallel"
    kick = by_name["left ear"].width
    assert by_name["head"].length == pytest.approx(36.5 + 2 * (casing.size + kick))
    assert by_name["head"].place == Place("Parlor", "N", *(by_name["head"].place[2:6]), "D")


def test_an_overdoor_returns_where_it_reaches_past_the_casing():
    found = [p for p in cut_list() if p.place.opening == "D"]
    frieze, cornice = (next(p for p in found if p.name == f"overdoor {form}") for form in ("frieze", "cornice"))
    assert frieze.ends == (SQUARE, SQUARE)
    assert cornice.ends == (RETURNED, RETURNED)
    returns = [p for p in found if p.part is Part.RETURN]
    assert [(p.side, p.length) for p in returns] == [
        (Side.LEFT, STATE.element("overdoor").projection),
        (Side.RIGHT, STATE.element("overdoor").projection),
    ]
    assert returns[0].note == "returns the overdoor cornice upon the wall"


def test_a_moulded_apron_returns_and_a_plain_one_is_square():
    for tier, ends in ((3, (RETURNED, RETURNED)), (1, (SQUARE, SQUARE))):
        (apron,) = [p for p in cut_list(trim(tier)) if p.part is Part.APRON and p.place.opening == "W1"]
        assert apron.ends == ends


def test_what_lies_on_its_flat_is_cut_from_its_depth():
    """A stool goes 3 in behind the wall's face, in between the jambs, and as far before it as its nosing shows."""
    found = cut_list(without(STATE, "wainscot"))
    stool = next(p for p in found if p.part is Part.STOOL)
    assert stool.width == STATE.element("stool").projection + 3
    assert stool.depth == stool.place.y1 - stool.place.y0 == STATE.element("stool").size
    shelf = next(p for p in found if p.part is Part.MANTEL_SHELF)
    mantel = STATE.element("mantel")
    assert (shelf.width, shelf.depth) == pytest.approx((mantel.depth, mantel.parts[-1][1]))
    assert "ends" in shelf.note and "ends" in stool.note


def test_a_block_is_cut_wider_by_what_is_let_in():
    found = [p for p in cut_list(trim(5, style="federal")) if p.place.opening == "D"]
    block = next(p for p in found if p.part is Part.BLOCK)
    assert block.width == pytest.approx(block.place.x1 - block.place.x0 + LIBRARY.surrounds.crossette.lap)
    assert block.note == 'let in behind the leg by 1/2", rebated'
    assert next(p for p in found if p.part is Part.UPPER_LEG).note == "return its profile at the foot"


def test_trim_that_reaches_past_a_corner_is_listed_whole():
    house = alone(PARLOR, Opening("W", "window", "Parlor", OUTSIDE, "S", 1.0, 36.0, 90.0, 30.0))
    head = next(p for p in cut_list(house=house) if p.part is Part.HEAD)
    assert head.place.x0 < 0
    kick = 1.0  # the doors' ear by the window's casing, and at least an inch
    assert head.length == pytest.approx(36.5 + 2 * STATE.element("window casing").size + 2 * kick)


@pytest.mark.parametrize(
    ("solid", "sizes"),
    [
        (Solid(Part.STILE, "wainscot", 0.0, 4.0, 6.0, 28.0, 0.75), (22, 4)),
        (Solid(Part.BOTTOM_RAIL, "wainscot", 4.0, 60.0, 6.0, 9.0, 0.75), (56, 3)),
        (Solid(Part.RAISED_PANEL, "wainscot", 4.0, 60.0, 9.0, 25.0, 0.75), (16, 56)),
        (Solid(Part.BASE, "base", 0.0, 3.0, 0.0, 6.0, 0.75), (3, 6)),
        (Solid(Part.PLINTH_BLOCK, "plinth block", 0.0, 6.0, 0.0, 5.0, 0.75), (5, 6)),
        (Solid(Part.STOOL, "stool", 0.0, 40.0, 28.75, 30.0, 3.5), (40, 3.5)),
    ],
)
def test_length_runs_with_the_grain(solid, sizes):
    assert measured(solid) == (*sizes, (SQUARE, SQUARE))


# Panels and boards


def test_a_panel_has_four_moulds_mitred_round_it():
    found = cut_list()
    panel = on(found, "S", Part.RAISED_PANEL)[0]
    x0, x1, y0, y1 = panel.place[2:6]
    moulds = [p for p in on(found, "S", Part.PANEL_MOULD) if x0 <= p.place.x0 and p.place.x1 <= x1 and p.place.y1 <= y1]
    assert len(moulds) == 4
    assert {p.side for p in moulds} == {Side.LEFT, Side.RIGHT, Side.NONE}
    assert all(p.ends == (Cut(Joint.MITRE, 45), Cut(Joint.MITRE, 45)) and p.width == MOULD for p in moulds)
    uprights = [p for p in moulds if p.side]
    assert {p.length for p in uprights} == {y1 - y0} and {p.length for p in moulds} == {y1 - y0, x1 - x0}
    left = next(p for p in moulds if p.side is Side.LEFT)
    assert (left.place.x0, left.place.x1) == (x0, x0 + MOULD)


def test_a_frame_is_cut_as_long_and_as_wide_as_it_is_drawn_in_section():
    """The base of 7 1/2 and the rail of 3 1/8 are planted on the frame, so that its rails are as much wider than what
    shows, its stiles run from the floor to the rail's top at 30 in, and panels go 3/8 into the grooves."""
    found = cut_list(house=alone(PARLOR))
    base, rail = STATE.element("base").size, STATE.element("chair rail").size
    assert {p.width for p in on(found, "N", Part.BOTTOM_RAIL)} == {3.0 + base}
    assert {p.width for p in on(found, "N", Part.TOP_RAIL)} == {3.0 + rail}
    top = lay_out(alone(PARLOR), "Parlor", STATE, LIBRARY)[0].rail_top
    ends = [p for p in on(found, "N", Part.STILE) if p.place.y0 == base]
    assert len(ends) == 2 and {p.length for p in ends} == {top}
    drawn = {p.part: p for p in sections(STATE, LIBRARY)["wainscot"]}
    for panel in [p for p in on(found, "N", Part.RAISED_PANEL) if p.element == "wainscot"]:
        assert panel.length == panel.place.y1 - panel.place.y0 + 0.75
        assert panel.width == pytest.approx(panel.place.x1 - panel.place.x0 + 0.75)
    assert drawn["bottom rail"].profile.height == 3.0 + base
    assert drawn["top rail"].profile.height == 3.0 + rail


def test_wall_panels_have_a_field_only_where_they_are_raised():
    georgian = [p for p in cut_list() if p.element == "wall panels"]
    assert {p.part for p in georgian} == {Part.RAISED_PANEL, Part.PANEL_MOULD}
    federal = [p for p in cut_list(trim(5, style="federal")) if p.element == "wall panels"]
    assert {p.part for p in federal} == {Part.PANEL_MOULD}


def test_boards_are_cut_one_by_one():
    beaded = on(cut_list(altered(STATE, "wainscot", form="beaded boards"), alone(PARLOR)), "N", Part.BEADED_BOARD)
    assert len(beaded) == 72
    assert {round(p.width, 9) for p in beaded} == {3.0}
    assert beaded[0].name == "beaded board"


def test_plain_boards_meet_behind_battens():
    found = cut_list(altered(STATE, "wainscot", form="boards and battens"), alone(PARLOR))
    boards, battens = on(found, "N", Part.BOARD), on(found, "N", Part.BATTEN)
    assert len(boards) == len(battens) - 1
    middles = [(p.place.x0 + p.place.x1) / 2 for p in battens[1:-1]]
    assert [p.place.x1 for p in boards] == pytest.approx([*middles, 216])
    assert [p.place.x0 for p in boards] == pytest.approx([0, *middles])


def test_a_bay_of_boards_takes_only_its_own_battens():
    found = cut_list(altered(STATE, "wainscot", form="boards and battens"))
    battens = on(found, "N", Part.BATTEN)
    boards = on(found, "N", Part.BOARD)
    for p in boards:
        inner = [b for b in battens if p.place.x0 < (b.place.x0 + b.place.x1) / 2 < p.place.x1]
        assert len([b for b in inner if p.place.x0 + 3 < b.place.x0 and b.place.x1 < p.place.x1 - 3]) == 0
    bays = {round(p.place.y1, 3) for p in boards}
    assert len(boards) == len(battens) - 2 and len(bays) == 1


# What is cut from what


@pytest.fixture(scope="module")
def bought():
    house, _ = read_house(demo_house())
    return plan(house, stock=read_stock(demo_house(), house.unit))


def test_without_a_stock_no_piece_has_a_code():
    assert {p.profile for p in cut_list()} == {()}


def test_codes_are_those_of_the_package(bought):
    for planned in bought.rooms:
        for p in pieces(bought.walls[planned.room.name], LIBRARY):
            known = {code for e in planned.package.elements for code in e.profiles}
            assert set(p.profile) <= known, p
            if p.part in RUNS or p.part in (Part.LEG, Part.HEAD, Part.STOOL, Part.APRON, Part.PLINTH_BLOCK):
                assert p.profile or p.place.opening == "", p
            if p.part in FRAME or p.part in PANELS or p.part is Part.MANTEL_SHELF:
                assert p.profile == (), p


def of_room(bought, tier, *parts):
    rooms = [r for r in bought.rooms if r.tier == tier]
    return [(r.package, p) for r in rooms for p in pieces(bought.walls[r.room.name], LIBRARY) if p.part in parts]


def codes(package_, element, *parts):
    whole = package_.element(element).assembly.pieces
    return {p.profile.code for p in whole if not parts or p.part in parts}


def test_each_part_of_a_crown_is_cut_from_its_own_stock(bought):
    found = of_room(bought, 4, Part.CROWN)
    assert found
    for package_, p in found:
        assert set(p.profile) == codes(package_, "crown", p.form) < codes(package_, "crown")


def test_a_casing_and_its_backband_are_cut_from_their_own_stock(bought):
    found = of_room(bought, 3, Part.LEG)
    windows = {o.name for o in bought.house.openings if o.kind == "window"}
    for package_, p in found:
        window = p.place.opening in windows
        casing = "window casing" if window else "casing"
        own = {q.profile.code for q in package_.element(casing).assembly.pieces if q.part == "backband"}
        assert set(p.profile) == (own if p.element == "backband" else codes(package_, casing) - own)
    assert {p.element for _, p in found} == {"casing", "backband"}


def test_a_backband_is_as_wide_as_the_stock_that_it_is_cut_from_and_the_casing_fills_the_rest(bought):
    kinds = {o.name: "window casing" if o.kind == "window" else "casing" for o in bought.house.openings}
    narrower = set()
    for package_, p in of_room(bought, 3, Part.LEG, Part.HEAD):
        casing = package_.element(kinds[p.place.opening])
        (band,) = (q.profile.height for q in casing.assembly.pieces if q.part == "backband")
        assert p.width == pytest.approx(band if p.element == "backband" else casing.size - band)
        narrower.add((kinds[p.place.opening], band < package_.element("backband").size))
    assert narrower == {("casing", False), ("window casing", True)}  # both ways are seen here


def test_a_shoe_is_not_cut_with_its_base(bought):
    for package_, p in of_room(bought, 2, Part.BASE, Part.SHOE):
        assert (set(p.profile) == codes(package_, "shoe")) is (p.part is Part.SHOE)
        if p.part is Part.BASE:
            assert set(p.profile) == codes(package_, "base") - codes(package_, "shoe")


def test_ears_are_cut_from_the_casing(bought):
    found = of_room(bought, 4, Part.EAR)
    assert found
    windows = {o.name for o in bought.house.openings if o.kind == "window"}
    for package_, p in found:
        assert set(p.profile) == codes(package_, "window casing" if p.place.opening in windows else "casing")
    assert {p.place.opening in windows for _, p in found} == {True, False}


def test_moulds_are_as_wide_as_the_stock_that_they_are_cut_from(bought):
    for package_, p in of_room(bought, 4, Part.PANEL_MOULD):
        assert p.width == package_.element("wainscot").assembly.height
        assert set(p.profile) == codes(package_, "wainscot")


@pytest.mark.parametrize(
    ("style", "bought_part", "bare_part"),
    [("craftsman", Part.BATTEN, Part.BOARD), ("victorian", Part.BEADED_BOARD, None)],
)
def test_battens_and_beaded_boards_are_bought_and_the_boards_behind_battens_are_not(style, bought_part, bare_part):
    house, _ = read_house(demo_house())
    planned = plan(replace(house, style=style), stock=read_stock(demo_house(), house.unit))
    for package_, p in of_room(planned, 4, bought_part, bare_part):
        assert set(p.profile) == (codes(package_, "wainscot") if p.part is bought_part else set())
    assert of_room(planned, 4, bought_part)


def test_pieces_are_values():
    found = cut_list()
    assert all(isinstance(p, Piece) for p in found)
    assert hash(found) == hash(cut_list())
    assert cut_list() == found


@pytest.mark.parametrize(
    ("cut", "words"),
    [
        (Cut(Joint.SQUARE), "square"),
        (Cut(Joint.COPE, through=-45.0), "coped"),
        (Cut(Joint.INSIDE, through=-22.5), "inside 22.5°"),
        (Cut(Joint.OUTSIDE, through=45.0), "outside 45°"),
        (Cut(Joint.RETURN, through=45.0), "return 45°"),
        (Cut(Joint.MITRE, across=-45.0), "45°"),
    ],
)
def test_cuts_in_words(cut, words):
    assert cut.words == words


def test_a_room_of_one_wall_kind_has_no_pieces_without_trim():
    bare = replace(STATE, elements=())
    assert cut_list(bare, alone(Room("Parlor", "Ground", "closet", 48.0, 30.0, 120.0))) == ()
