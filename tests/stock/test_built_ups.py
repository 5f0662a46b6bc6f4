"""Built-ups measure what their layers make them."""

from dataclasses import replace

import pytest

from planner.library.shop_rows import Layer
from planner.stock.built_ups import (
    Target,
    assemble,
    bounds_of,
    cut_to,
    depth_of,
    deviation,
    height_of,
    is_sound,
    layers_of,
    options_of,
    suits,
    target_of,
)
from planner.stock.families import Taste
from planner.stock.search import best
from planner.stock.stock import Stock
from planner.values import immutabledict
from tests.known import LIBRARY, package
from tests.stock.invented import DEMO, made


def test_every_row_names_roles_and_elements_that_exist():
    known = {(form.element, form.name) for form in LIBRARY.forms}
    for way in LIBRARY.building.built_ups:
        assert {role for layer in way.layers for role in layer.roles} <= set(LIBRARY.role_names), way.name
        for element in way.elements:
            if element in LIBRARY.element_kinds:
                assert any((element, form) in known for form in way.forms), (way.name, element)
        assert sum(layer.fill or bool(layer.gap) for layer in way.layers) <= 1, way.name
        assert way.layers[0].stand == "on", way.name


def test_every_form_that_is_bought_can_be_built_from_the_demo_stock():
    for form in LIBRARY.forms:
        if form.element not in LIBRARY.building.not_bought:
            assert LIBRARY.built_ups(form.element, form.name), form
            assert best(Target(form.element, 5.0, 3.0, form.name), DEMO, LIBRARY, 1), form


# One layer


def test_a_layer_suits_what_has_its_members():
    beaded = made("B", "casing", "beaded edge 1/2 x 7/8; fascia 3 1/2 x 7/8")
    plain = made("P", "casing", "fascia 4 x 7/8")
    alike = made("M", "casing", "fillet 1/4 x 7/8; fascia 3 x 1/2; fillet 1/4 x 7/8")
    assert [suits(Layer("", holds=immutabledict({"beaded edge": 1})), p) for p in (beaded, plain)] == [True, False]
    assert [suits(Layer("", holds=immutabledict({"fillet": 1})), p) for p in (plain, alike)] == [False, False]
    assert [suits(Layer("", only=("fascia",)), p) for p in (beaded, plain)] == [False, True]
    assert [suits(Layer("", mirrored=True), p) for p in (beaded, plain, alike)] == [False, False, True]
    assert [suits(Layer("", rip=True, least=5.0), p) for p in (plain, alike)] == [False, False]
    assert suits(Layer("", least=5.0), plain)


def test_options_come_cheapest_first_whatever_the_order_of_the_stock():
    profiles = (
        made("C", "board", "fascia 4 x 3/4", 2.0),
        made("B", "board", "fascia 3 x 3/4", 1.0),
        made("A", "board", "fascia 5 x 3/4", 2.0),
        made("X", "casing", "fascia 5 x 3/4", 0.5),
    )
    for stock in (Stock(profiles), Stock(profiles[::-1])):
        assert [p.code for p in options_of(Layer("", ("board",)), stock)] == ["B", "A", "C"]
    assert options_of(Layer("wall", gap=(0.75, 3.0)), Stock(profiles)) == (None,)


def test_of_a_design_family_where_the_stock_has_it_and_of_any_where_it_has_not():
    families = {"A": "Low", "B": "High", "C": ""}
    profiles = tuple(replace(made(code, "board", "fascia 4 x 3/4"), family=of) for code, of in families.items())
    layer = Layer("", ("board",))
    assert [p.code for p in options_of(layer, Stock(profiles), Taste("High"))] == ["B"]
    assert [p.code for p in options_of(layer, Stock(profiles), Taste("Other"))] == ["A", "B", "C"]
    assert [p.code for p in options_of(layer, Stock(profiles))] == ["A", "B", "C"]


def test_a_cut_is_a_sixteenth_within_its_bounds():
    assert [cut_to(asked, 1.0, 5.5) for asked in (3.3, 0.5, 5.49, 9.0)] == [3.3125, 1.0, 5.5, 5.5]
    assert cut_to(1.0, 1.03, 5.5) == 1.0625  # the least that is a sixteenth
    assert cut_to(9.0, 1.0, 5.53) == 5.53  # a whole board may be no sixteenth


def test_what_is_ripped_keeps_half_an_inch_of_its_flat():
    beaded = made("B", "casing", "beaded edge 1/2 x 7/8; fascia 3 1/2 x 7/8")
    crown = made("K", "crown", "fillet 1/4 x 1/4; cyma recta 2 x 1 3/4; fillet 1/4 x 2")
    assert bounds_of(Layer("", rip=True), beaded, LIBRARY) == (1.0, 4.0)
    assert bounds_of(Layer("", rip=True, least=2.5), beaded, LIBRARY) == (2.5, 4.0)
    assert bounds_of(Layer(""), beaded, LIBRARY) == (4.0, 4.0)
    assert bounds_of(Layer("", rip=True), crown, LIBRARY) == (2.5, 2.5)


def test_heights_and_depths_of_a_layer():
    board = made("O", "board", "fascia 5 1/2 x 3/4")
    target = Target("plate rail", 4.0, 3.3, parts=(("plinth", 2.0),))
    assert height_of(Layer("plinth", rip=True), board, target.asked, LIBRARY) == 2.0
    assert height_of(Layer("board", rip=True), board, target.asked, LIBRARY) == 5.5
    assert height_of(Layer("plinth"), board, target.asked, LIBRARY) == 5.5
    assert height_of(Layer("shelf", turned=True), board, target.asked, LIBRARY) == 0.75
    assert depth_of(Layer("shelf", turned=True), board, target) == 3.3125
    assert depth_of(Layer("board"), board, target) == 0.75


def test_deviation_weighs_height_projection_and_parts():
    """Inches of height count whole, of projection and of a part a quarter (library/built_ups.toml)."""
    target = Target("base", 8.0, 1.0, parts=(("board", 6.0), ("cap", 2.0)), within=(("shoe", 0.75),))
    assert deviation(target, 7.5, 1.5, {"board": 5.0, "cap": 2.5, "other": 9.0}, LIBRARY) == 0.5 + 0.125 + 0.375
    assert deviation(target, 8.5, None, {"shoe": 0.5}, LIBRARY) == 0.5 + 0.0625


# Whole built-ups


def test_base_of_board_cap_and_shoe():
    """A board ripped to 4 1/4 in under a cap of 1 1/4 in is 5 1/2 in high; the shoe adds nothing to that."""
    target = Target("base", 5.5, 0.875, "board and cap", within=(("shoe", 0.75),))
    found = best(target, DEMO, LIBRARY, 1)[0]
    board, cap, shoe = found.pieces
    assert (board.cut, board.x, board.y) == (5.5 - cap.profile.height, 0.0, 0.0)
    assert board.cut_from in DEMO.profiles and board.cut_from.height > board.cut
    assert (cap.x, cap.y) == (0.0, board.profile.height)
    assert (shoe.profile.role, shoe.x, shoe.y) == ("shoe", board.reach, 0.0)
    assert (found.height, found.projection) == (5.5, 0.875)
    assert found.price_per_foot == pytest.approx(sum(p.profile.price for p in found.pieces))
    assert len(best(Target("base", 5.5, 0.875, "board and cap"), DEMO, LIBRARY, 1)[0].pieces) == 2


def test_crown_above_a_bead_leaves_plain_wall_between():
    """Common practice: bead, at least as much plain wall, crown; 5 to 6 in down in all."""
    found = best(Target("crown", 5.5, 2.1, "crown above a bead"), DEMO, LIBRARY, 1)[0]
    bead, crown = found.pieces
    gap = crown.y - bead.top
    assert gap >= bead.profile.height
    assert bead.profile.height + gap + crown.profile.height == found.height == 5.5
    assert dict(found.parts)["wall"] == gap


def test_chair_rail_of_a_beaded_casing_and_a_backband():
    stock = Stock(
        (
            made("C", "casing", "beaded edge 1/2 x 7/8; fascia 3 1/2 x 7/8"),
            made("B", "backband", "cyma reversa 1/2 x 1 1/8; backband 3/8 x 1 1/4"),
        )
    )
    found = best(Target("chair rail", 3.0, 1.25, "moulded rail"), stock, LIBRARY)[0]
    casing, band = found.pieces
    assert casing.cut == 2.125 and casing.profile.members[1].height == 1.625
    assert (band.y, found.height, found.projection) == (2.125, 3.0, 1.25)


def test_cornice_of_bed_mould_corona_and_cymatium():
    """The cymatium's foot stands 1/8 in proud of the corona, which passes the bed mould by 1/2 in or more."""
    stock = Stock(
        (
            made("B", "bed mould", "fillet 1/4 x 1/4; ovolo 1 x 1; fillet 1/4 x 1 1/4"),
            made("C", "corona", "corona 1 1/2 x 4"),
            made("Y", "cymatium", "fillet 1/4 x 1/4; cyma recta 1 x 1; fillet 1/4 x 1 1/4"),
        )
    )
    target = Target("crown", 4.5, 5.0, "four-part cornice")
    found = best(target, stock, LIBRARY)
    assert len(found) == 1
    bed, corona, top = found[0].pieces
    assert (bed.x, corona.x, top.x) == (0.0, 0.0, 4 + 0.125 - 0.25)
    assert (found[0].height, found[0].projection) == (4.5, 5.125)
    assert found[0].deviation == pytest.approx(0.25 * 0.125)
    short = Stock((stock.profiles[0], made("C", "corona", "corona 1 1/2 x 1 5/8"), stock.profiles[2]))
    assert best(target, short, LIBRARY) == ()
    enough = Stock((stock.profiles[0], made("C", "corona", "corona 1 1/2 x 1 3/4"), stock.profiles[2]))
    assert len(best(target, enough, LIBRARY)) == 1


def test_a_frieze_stays_behind_its_taenia():
    """A frieze stands at least 1/8 in behind the taenia (library/built_ups.toml), or it cannot be built."""
    way = LIBRARY.built_ups("crown", "cornice, frieze and taenia")[0]
    target = Target("crown", 10.0, 4.0, "cornice, frieze and taenia")
    rest = (
        made("B", "bed mould", "fillet 1/4 x 1/4; ovolo 1 x 1; fillet 1/4 x 1 1/4"),
        made("C", "corona", "corona 1 1/2 x 4"),
        made("Y", "cymatium", "fillet 1/4 x 1/4; cyma recta 1 x 1; fillet 1/4 x 1 1/4"),
    )
    board = made("O", "board", "fascia 11 1/4 x 3/4")
    for reach, fits in (("7/8", True), ("13/16", False)):
        chosen = (made("T", "taenia", f"fillet 1/2 x {reach}"), board, *rest)
        assert (assemble(way, way.layers, chosen, target, LIBRARY) is not None) == fits


def test_a_boxed_beam_has_its_face_flush_with_its_soffit():
    found = best(Target("crown", 8.0, 5.0, "boxed beam"), DEMO, LIBRARY, 1)[0]
    bed, soffit, face = found.pieces
    assert soffit.turned and soffit.reach == face.reach == found.projection
    assert face.x == soffit.reach - face.profile.projection
    assert (bed.x, soffit.x) == (0.0, 0.0)


def test_a_terminating_moulding_is_not_put_under_load():
    """A bed mould that ends in a cyma recta cannot carry a corona (Hatfield, art. 310)."""
    rest = (made("C", "corona", "corona 1 x 3"), made("Y", "cymatium", "fillet 1/4 x 1/4; cyma recta 1 x 1"))
    weak = made("W", "bed mould", "fillet 1/4 x 1/4; cyma recta 1 x 1; fillet 1/4 x 1 1/8")
    strong = made("S", "bed mould", "fillet 1/4 x 1/4; cyma reversa 1 x 1; fillet 1/4 x 1 1/8")
    target = Target("crown", 3.5, 4.0, "four-part cornice")
    way = LIBRARY.built_ups("crown", "four-part cornice")[0]
    built = [assemble(way, way.layers, (bed, *rest), target, LIBRARY) for bed in (weak, strong)]
    assert [is_sound(a) for a in built] == [False, True]


def test_a_turned_board_lies_on_its_flat():
    shelf = best(Target("plate rail", 4.0, 3.0, "shelf on a board"), DEMO, LIBRARY, 1)[0].pieces[-1]
    assert shelf.turned
    assert (shelf.profile.height, shelf.profile.projection) == (shelf.cut_from.projection, 3.0)
    assert shelf.profile.members[0].projection == 3.0


# What is asked


def test_a_layer_within_is_laid_only_where_it_is_asked_for():
    (way,) = (w for w in LIBRARY.built_ups("base", "board and cap"))
    assert [layer.part for layer in layers_of(way, Target("base", 5.0, 0.75))] == ["board", "cap"]
    asked = Target("base", 5.0, 0.75, within=(("shoe", 0.75),))
    assert [layer.part for layer in layers_of(way, asked)] == ["board", "cap", "shoe"]


def test_what_an_element_asks_of_the_stock():
    state = package("georgian", "doric", 5, 120.0, top=5)
    base = target_of(state, state.element("base"), LIBRARY)
    assert (base.role, base.form, base.parts) == ("base", "plinth, board and cap", state.element("base").parts)
    assert base.height == state.element("base").target
    family = package("georgian", "doric", 3, 120.0, top=5)
    casing = target_of(family, family.element("casing"), LIBRARY)
    assert casing.form == "backbanded casing" and dict(casing.within) == {"backband": family.element("backband").size}
    wainscot = target_of(state, state.element("wainscot"), LIBRARY)
    assert wainscot.height == 1.375 and not wainscot.parts  # a planted panel mould is of its own height
    assert target_of(state, state.element("crossette"), LIBRARY) is None
