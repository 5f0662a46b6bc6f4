"""Rule sets on the demo house, and what each must give: written out by hand from the tables of the library.

The arithmetic, Georgian and Doric, a house of the fourth tier of five: under 10'-0" the column is 75.79, the pedestal
25.26, its base 5.614 and cap 2.807, the cornice 7.105 and a doorway's casing 5.651; under 9'-0" 68.21, 22.74, 5.053,
2.526, 6.395 and 5.086. The third tier is 0.85 of the fourth, the second 0.7225, the first 0.6141; what is built is the
nearest 1/8. The dado, 25.26 or 22.74, comes up to 28.
"""

from collections.abc import Mapping
from typing import NamedTuple

from planner.values import immutabledict

ROOMS = {
    "State 10'": (),
    "Principal 10'": ("Entry Hall", "Drawing Room", "Dining Room"),
    "Family 10'": ("Stair Hall", "Library", "Family Room", "Kitchen"),
    "Chamber 10'": ("Powder Room", "Butler's Pantry", "Mud Room", "Garden Room"),
    "Service 10'": ("Coat Closet", "Back Stair"),
    "Family 9'": ("Upper Hall",),
    "Chamber 9'": (
        "Principal Bedroom",
        "Dressing Room",
        "Principal Bath",
        "West Bedroom",
        "Guest Bedroom",
        "Guest Bath",
        "Hall Bath",
    ),
    "Service 9'": ("West Closet", "Guest Closet", "Linen Closet", "Back Hall"),
}
"""The rooms of the demo house by tier and ceiling: as it is, and with each of these rule sets."""


class RuleSet(NamedTuple):
    """Rules as a designer writes them, and what they give.

    `gives` has a row for every element that is not as the style has it: where | element | form | size | bottom, in
    inches; a dash for one that is gone; nothing else may differ. A place is a room, rooms of ROOMS, or a room at an
    opening. `labels` are the labels of packages that are not the style's own, with the rooms that share each.
    `told` are rules of the checks with the room and the start of the message.
    """

    rules: str
    gives: str
    labels: Mapping[str, tuple[str, ...]] = immutabledict()
    told: tuple[tuple[str, str, str], ...] = ()
    stock: bool = False


RULE_SETS = {
    "chair rail from the second tier": RuleSet(
        """
        [[trim]]
        element = "chair rail"
        tiers = [2, 5]
        form = "moulded rail"
        """,
        # 1.1 x the cap x 0.7225, and in the fourth tier x 1, where the style has a pedestal cap
        """
        Chamber 10'   | chair rail | moulded rail | 2.25  | 25.75
        Chamber 9'    | chair rail | moulded rail | 2.0   | 26.0
        Principal 10' | chair rail | moulded rail | 3.125 | 24.875
        """,
    ),
    "ears off a level": RuleSet(
        """
        [[trim]]
        element = "crossette"
        levels = ["Ground"]
        form = "none"

        [[trim]]
        element = "crossette"
        levels = ["Upper"]
        form = "none"
        """,
        "Principal 10' | crossette | -",
        {"Principal 10'-0\", without crossette": ROOMS["Principal 10'"]},
        (("rule without effect", "", "trim rule 2 changes nothing: crossette on Upper: none"),),
    ),
    "a wainscot in one bedroom": RuleSet(
        """
        [[trim]]
        element = "wainscot"
        rooms = ["Guest Bedroom"]
        form = "flat panels"
        """,
        "Guest Bedroom | wainscot | flat panels | 28.0 | 0.0",
        {"Chamber 9'-0\", with flat panels wainscot": ("Guest Bedroom",)},
        (("rule against the tiers", "Guest Bedroom", "a trim rule gives it wainscot (flat panels), and Upper Hall"),),
    ),
    "my casing on a tier, from stock": RuleSet(
        """
        [[trim]]
        element = "casing"
        tiers = [3, 3]
        profile = "QB-CT475"
        """,
        """
        Family 10' | casing | backbanded casing | 4.75
        Family 9'  | casing | backbanded casing | 4.75
        """,
        stock=True,
    ),
    "trim of one door alone": RuleSet(
        """
        [[trim]]
        element = "casing"
        openings = ["Library hall door"]
        form = "two fasciae"
        """,
        # 0.96 of 5.651, as in the rooms that have such casings; a backband goes with a casing made for one
        """
        Stair Hall at Library hall door | casing   | two fasciae | 5.375
        Stair Hall at Library hall door | backband | -
        Library at Library hall door    | casing   | two fasciae | 5.375
        Library at Library hall door    | backband | -
        """,
        {
            'Family 10\'-0", casing two fasciae and 5 3/8" and without backband at Library hall door': (
                "Stair Hall",
                "Library",
            )
        },
    ),
    "a use beaten by a room, and that by an opening": RuleSet(
        """
        [[trim]]
        element = "casing"
        openings = ["Guest bath door"]
        form = "backbanded casing"

        [[trim]]
        element = "casing"
        rooms = ["Guest Bedroom"]
        form = "two fasciae"

        [[trim]]
        element = "casing"
        uses = ["bedroom"]
        form = "beaded casing"
        """,
        # two fasciae no wider than the casings of the tier above; backbanded 0.75 of 5.086, but no door's below 4 1/8
        """
        West Bedroom                     | casing   | beaded casing     | 4.125
        West Bedroom                     | backband | -
        Guest Bedroom                    | casing   | two fasciae       | 4.75
        Guest Bedroom                    | backband | -
        Guest Bedroom at Guest bath door | casing   | backbanded casing | 4.125
        Guest Bedroom at Guest bath door | backband | moulded backband  | 0.875
        """,
        {
            "Chamber 9'-0\", beaded casing, without backband": ("West Bedroom",),
            'Chamber 9\'-0", casing two fasciae and 4 3/4", without backband, backbanded casing and 4 1/8" '
            "and with moulded backband at Guest bath door": ("Guest Bedroom",),
        },
        (("rule against the tiers", "Guest Bedroom", "a trim rule gives it casing (two fasciae), and Upper Hall"),),
    ),
    "of two as narrow the later": RuleSet(
        """
        [[trim]]
        element = "chair rail"
        rooms = ["Kitchen"]
        form = "none"

        [[trim]]
        element = "chair rail"
        rooms = ["Kitchen", "Library"]
        form = "pedestal cap"
        """,
        # 1.1 x 2.807 x 0.85, as the style's moulded rail
        """
        Kitchen | chair rail | pedestal cap | 2.625 | 25.375
        Library | chair rail | pedestal cap | 2.625 | 25.375
        """,
        {"Family 10'-0\", chair rail pedestal cap": ("Kitchen", "Library")},
        (("rule without effect", "", "trim rule 1 changes nothing: chair rail in Kitchen: none"),),
    ),
    "of two as narrow the later, the other way round": RuleSet(
        """
        [[trim]]
        element = "chair rail"
        rooms = ["Kitchen", "Library"]
        form = "pedestal cap"

        [[trim]]
        element = "chair rail"
        rooms = ["Kitchen"]
        form = "none"
        """,
        """
        Kitchen | chair rail | -
        Library | chair rail | pedestal cap | 2.625 | 25.375
        """,
        {"Family 10'-0\", chair rail pedestal cap": ("Library",), "Family 10'-0\", without chair rail": ("Kitchen",)},
    ),
    "form from a wide rule, size from a narrow one": RuleSet(
        """
        [[trim]]
        element = "base"
        rooms = ["Kitchen"]
        size = "7 in"

        [[trim]]
        element = "base"
        form = "plinth, board and cap"
        """,
        # 1.333 x the pedestal's base, x 0.7225 and x 0.6141, at least 5
        """
        Service 10' | base | plinth, board and cap | 5.0   | 0.0
        Service 9'  | base | plinth, board and cap | 5.0   | 0.0
        Chamber 10' | base | plinth, board and cap | 5.375 | 0.0
        Chamber 9'  | base | plinth, board and cap | 5.0   | 0.0
        Family 10'  | base | plinth, board and cap | 6.375 | 0.0
        Family 9'   | base | plinth, board and cap | 5.75  | 0.0
        Kitchen     | base | plinth, board and cap | 7.0   | 0.0
        """,
        {'Family 10\'-0", base 7"': ("Kitchen",)},
    ),
    "none beaten by a narrower form": RuleSet(
        """
        [[trim]]
        element = "crown"
        levels = ["Upper"]
        form = "none"

        [[trim]]
        element = "crown"
        rooms = ["Principal Bedroom"]
        form = "crown above a bead"
        """,
        # the style's own such crown for a chamber on a longer ladder
        """
        Chamber 9'        | crown | -
        Family 9'         | crown | -
        Principal Bedroom | crown | crown above a bead | 5.25 | 102.75
        """,
        {
            "Chamber 9'-0\", without crown": tuple(r for r in ROOMS["Chamber 9'"] if r != "Principal Bedroom"),
            "Family 9'-0\", without crown": ("Upper Hall",),
            'Chamber 9\'-0", crown above a bead and 5 1/4"': ("Principal Bedroom",),
        },
        (("rule against the tiers", "Principal Bedroom", "a trim rule gives it crown (crown above a bead), and Upp"),),
    ),
    "a chair rail at a height, whatever the windows": RuleSet(
        """
        [[trim]]
        element = "chair rail"
        rooms = ["Library"]
        height = "2'-9\\""
        """,
        "Library | chair rail | moulded rail | 2.625 | 30.375",
        {"Family 10'-0\", chair rail at 2'-9\"": ("Library",)},
    ),
    "a picture rail at a height": RuleSet(
        """
        [[trim]]
        element = "picture rail"
        rooms = ["Principal Bedroom"]
        form = "plain rail"
        height = "7'-6\\""
        """,
        # the period has none: 1 3/4 in of another that has
        "Principal Bedroom | picture rail | plain rail | 1.75 | 88.25",
        {"Chamber 9'-0\", with plain rail picture rail (at 7'-6\")": ("Principal Bedroom",)},
        (("rule against the tiers", "Principal Bedroom", "a trim rule gives it picture rail (plain rail), and Upper"),),
    ),
    "a projection": RuleSet(
        """
        [[trim]]
        element = "chair rail"
        tiers = 4
        projection = "2 in"
        """,
        "Principal 10' | chair rail | pedestal cap | 3.125 | 24.875",
    ),
    "a crown of a size in one room": RuleSet(
        """
        [[trim]]
        element = "crown"
        rooms = ["Dining Room"]
        size = "1'"
        """,
        "Dining Room | crown | cornice, frieze and taenia | 12.0 | 108.0",
        {"Principal 10'-0\", crown 1'-0\"": ("Dining Room",)},
    ),
    "what is sized by another follows it": RuleSet(
        """
        [[trim]]
        element = "casing"
        tiers = [3, 3]
        size = "6 in"
        """,
        # the backband is 0.22 of the casing, 1.32
        """
        Family 10' | casing   | backbanded casing | 6.0
        Family 10' | backband | moulded backband  | 1.375
        Family 9'  | casing   | backbanded casing | 6.0
        Family 9'  | backband | moulded backband  | 1.375
        """,
        {},
        (("rule against the tiers", "Stair Hall", "a trim rule gives it casing (backbanded casing), and Entry Hall"),),
    ),
    "what is sized by another goes with it": RuleSet(
        """
        [[trim]]
        element = "casing"
        openings = ["Pantry kitchen door"]
        form = "none"
        """,
        """
        Kitchen at Pantry kitchen door         | casing   | -
        Kitchen at Pantry kitchen door         | backband | -
        Butler's Pantry at Pantry kitchen door | casing   | -
        Butler's Pantry at Pantry kitchen door | backband | -
        """,
        {
            "Family 10'-0\", without casing and without backband at Pantry kitchen door": ("Kitchen",),
            "Chamber 10'-0\", without casing and without backband at Pantry kitchen door": ("Butler's Pantry",),
        },
    ),
}
