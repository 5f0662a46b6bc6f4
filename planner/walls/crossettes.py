"""Casings that kick out at their heads in ears, as the pieces of wood that make them. All lengths are inches.

Three ways to make an ear: mitre the whole moulding round it, break only the outer moulding round it, or let a block in
behind the leg. All cover the same outline.
"""

from dataclasses import replace

from planner.library.shop_rows import Crossette
from planner.walls.casings import Frame, box, head, mitred, pair
from planner.walls.parts import Part
from planner.walls.solids import Solid


def kick(asked: float, rule: Crossette) -> float:
    """How far ears stand out [in]: what is asked, brought into what practice holds."""
    return min(max(asked, rule.kick_least), rule.kick_most)


def drop(opening_width: float, mitred: float, rule: Crossette) -> float:
    """How far ears reach down from the top of the head.

    Parameters
    ----------
    opening_width : of the opening. [in]
    mitred : width of the moulding that is mitred round the ear. [in]
    rule : what practice holds.

    Returns
    -------
    The drop: about 12 in, a little more on a larger opening and so much that something straight is left between the
    mitres, and never more than 16 in. [in]

    References
    ----------
    Common practice; limits in library/openings_trim.toml.

    Examples
    --------
    >>> from planner.library import standard
    >>> rule = standard().surrounds.crossette
    >>> drop(32, 1.25, rule), drop(54, 1.25, rule), drop(96, 1.25, rule), drop(32, 6.0, rule)
    (12.0, 14.0, 16.0, 14.0)
    """
    larger = min(max((opening_width - rule.narrow) / (rule.wide - rule.narrow), 0.0), 1.0)
    asked = rule.drop_least + larger * (rule.drop_most - rule.drop_least)
    return min(max(asked, 2 * mitred + rule.upright_least), rule.drop_most)


def outer_moulding(frame: Frame, thickness: float, rule: Crossette) -> Frame:
    """The frame with its outer moulding apart: the backband, else the cymatium of a casing in one piece.

    Parameters
    ----------
    frame : of the casing.
    thickness : of the casing beside the opening. [in]
    rule : which part of its width the cymatium is.
    """
    if frame.band:
        return frame
    return replace(frame, band=rule.outer * frame.width, face=min(thickness, frame.face), band_face=frame.face)


def eared(frame: Frame) -> tuple[Solid, ...]:
    """A crossette whose moulding is mitred round an ear.

    The ear is a flat strip as wide as the kick. A backband, or the outer moulding of fasciae, passes outside it, what
    is flat running straight up inside; a casing in one piece is itself mitred round it, and the ear then stands beside
    the opening.
    """
    m, k, element = frame.mitred, frame.kick, frame.outermost
    inner, outer = frame.x0 - frame.flat, frame.x0 - frame.width
    right_inner, right_outer = frame.x1 + frame.flat, frame.x1 + frame.width
    low, high = frame.underside, frame.top
    leg = ((outer, frame.y0), (inner, frame.y0), (inner, low + m), (outer, low))
    under = ((outer, low), (inner, low + m), (inner - k, low + m), (outer - k, low))
    upright = ((outer - k, low), (inner - k, low + m), (inner - k, high - m), (outer - k, high))
    over = ((inner - k, high - m), (right_inner + k, high - m), (right_outer + k, high), (outer - k, high))
    return (
        *(mitred(frame, 0.0, frame.flat, "casing") if frame.flat else ()),
        *pair(frame, Part.EAR, "crossette", box(inner - k, inner, low + m, high - m)),
        *pair(frame, Part.LEG, element, leg),
        *pair(frame, Part.EAR_RETURN, element, under),
        *pair(frame, Part.UPRIGHT, element, upright),
        head(frame, element, over),
    )


def kicked(frame: Frame, lap: float) -> tuple[Solid, ...]:
    """A crossette made by a block let in behind the upper part of the leg, which it kicks out.

    The leg is cut square at the ear's underside; its upper part moves out by the kick, the block fills the step beside
    the opening and laps behind the leg by `lap` in a rebate. [in]
    """
    w, k, x0, x1, low = frame.width, frame.kick, frame.x0, frame.x1, frame.underside
    upper = ((x0 - w - k, low), (x0 - k, low), (x0 - k, frame.y1), (x0 - w - k, frame.top))
    over = ((x0 - k, frame.y1), (x1 + k, frame.y1), (x1 + w + k, frame.top), (x0 - w - k, frame.top))
    block = box(x0 - k, x0, low, frame.y1)
    return (
        *pair(frame, Part.LEG, "casing", box(x0 - w, x0, frame.y0, low)),
        *pair(frame, Part.UPPER_LEG, "casing", upper),
        *(pair(frame, Part.BLOCK, "crossette", block, lap) if frame.drop > w else ()),
        head(frame, "casing", over),
    )


def rosettes(frame: Frame) -> tuple[Solid, ...]:
    """A carved square in the jog under each ear, as wide as the ear stands out; none where there are no ears."""
    if not frame.kick:
        return ()
    outer, low = frame.x0 - frame.width, frame.underside
    jog = box(outer - frame.kick, outer, low - frame.kick, low)
    stands = max(frame.face, frame.band_face)
    return tuple(
        s._replace(projection=stands, decorated=True, outline=()) for s in pair(frame, Part.ROSETTE, "crossette", jog)
    )
