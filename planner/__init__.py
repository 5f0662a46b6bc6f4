"""A planner of interior trim for whole houses: house, intent, stock and library in, plan out, views after.

>>> from planner import demo_house, plan, read_house, read_stock
>>> house, warnings = read_house(demo_house())
>>> planned = plan(house, stock=read_stock(demo_house()))
>>> planned.optimal, planned.by_name["Entry Hall"].tier
(True, 4)

Every name here is loaded when it is first used, so that whoever only reads a house pays for no solver and no chart.
"""

from importlib import import_module

TYPE_CHECKING = False  # known to type checkers by its name; `typing` itself takes most of the time to the first handler
if TYPE_CHECKING:
    from typing import Any

    from planner import charts
    from planner.bundle import bundled, demo_house
    from planner.checks.check import Check
    from planner.deliverables.deliver import deliver
    from planner.deliverables.plan_json import plan_object, plan_text
    from planner.deliverables.plan_text import plan_table, proposals_table
    from planner.deliverables.web_page import share_page
    from planner.drawings.beside import beside
    from planner.drawings.dxf import dxf
    from planner.drawings.ladder import ladder
    from planner.drawings.page import room_sheet
    from planner.drawings.perspective import perspective
    from planner.drawings.section import package_sections, profile_section
    from planner.drawings.strip import strip
    from planner.drawings.svg import png, svg
    from planner.files.problems import HouseFault, Problem
    from planner.house.folder import read_house, write_house
    from planner.house.model import Existing, House, Opening, OwnRate, Room
    from planner.house.styles import house_library, write_style
    from planner.intent import edits
    from planner.intent.folder import list_intents, read_intent, write_intent
    from planner.intent.model import Intent, Wing, Wish
    from planner.intent.renaming import rename_room
    from planner.intent.trim_rules import Change, Scope, TrimRule
    from planner.library import Library, standard
    from planner.planning import frames
    from planner.planning.answer import Plan
    from planner.planning.differences import differences
    from planner.planning.pipeline import plan
    from planner.planning.proposals import Proposal
    from planner.record.decisions import changed_since, decide, decided_folder, decisions
    from planner.record.entries import Answer, Decision, ElementWish, Remark, Reply, Vote
    from planner.record.fingerprint import fingerprint
    from planner.record.history import history, history_object, history_text
    from planner.record.keeping import Record, keep, open_session, read_record
    from planner.record.one_step import one_step
    from planner.record.returned import add_answers
    from planner.record.sent import new_sending
    from planner.record.taking import take_answer
    from planner.record.voices import voices, votes
    from planner.stock.beginning import new_house
    from planner.stock.own_profiles import add_profile, draw_profile
    from planner.stock.stock import Stock, read_stock

_WHERE = {
    "Answer": "planner.record.entries",
    "Change": "planner.intent.trim_rules",
    "Check": "planner.checks.check",
    "Decision": "planner.record.entries",
    "ElementWish": "planner.record.entries",
    "Existing": "planner.house.model",
    "House": "planner.house.model",
    "HouseFault": "planner.files.problems",
    "Intent": "planner.intent.model",
    "Library": "planner.library",
    "Opening": "planner.house.model",
    "OwnRate": "planner.house.model",
    "Plan": "planner.planning.answer",
    "Problem": "planner.files.problems",
    "Record": "planner.record.keeping",
    "Remark": "planner.record.entries",
    "Reply": "planner.record.entries",
    "Proposal": "planner.planning.proposals",
    "Room": "planner.house.model",
    "Scope": "planner.intent.trim_rules",
    "Stock": "planner.stock.stock",
    "TrimRule": "planner.intent.trim_rules",
    "Vote": "planner.record.entries",
    "Wing": "planner.intent.model",
    "Wish": "planner.intent.model",
    "add_answers": "planner.record.returned",
    "add_profile": "planner.stock.own_profiles",
    "beside": "planner.drawings.beside",
    "bundled": "planner.bundle",
    "changed_since": "planner.record.decisions",
    "charts": "planner",
    "decide": "planner.record.decisions",
    "decided_folder": "planner.record.decisions",
    "decisions": "planner.record.decisions",
    "deliver": "planner.deliverables.deliver",
    "demo_house": "planner.bundle",
    "differences": "planner.planning.differences",
    "draw_profile": "planner.stock.own_profiles",
    "dxf": "planner.drawings.dxf",
    "edits": "planner.intent",
    "fingerprint": "planner.record.fingerprint",
    "frames": "planner.planning",
    "history": "planner.record.history",
    "history_object": "planner.record.history",
    "history_text": "planner.record.history",
    "house_library": "planner.house.styles",
    "keep": "planner.record.keeping",
    "ladder": "planner.drawings.ladder",
    "list_intents": "planner.intent.folder",
    "new_house": "planner.stock.beginning",
    "new_sending": "planner.record.sent",
    "one_step": "planner.record.one_step",
    "open_session": "planner.record.keeping",
    "package_sections": "planner.drawings.section",
    "perspective": "planner.drawings.perspective",
    "plan": "planner.planning.pipeline",
    "plan_object": "planner.deliverables.plan_json",
    "plan_table": "planner.deliverables.plan_text",
    "plan_text": "planner.deliverables.plan_json",
    "png": "planner.drawings.svg",
    "profile_section": "planner.drawings.section",
    "proposals_table": "planner.deliverables.plan_text",
    "read_house": "planner.house.folder",
    "read_intent": "planner.intent.folder",
    "read_record": "planner.record.keeping",
    "read_stock": "planner.stock.stock",
    "rename_room": "planner.intent.renaming",
    "room_sheet": "planner.drawings.page",
    "share_page": "planner.deliverables.web_page",
    "standard": "planner.library",
    "strip": "planner.drawings.strip",
    "svg": "planner.drawings.svg",
    "take_answer": "planner.record.taking",
    "voices": "planner.record.voices",
    "votes": "planner.record.voices",
    "write_house": "planner.house.folder",
    "write_intent": "planner.intent.folder",
    "write_style": "planner.house.styles",
}

_MODULES = ("charts", "edits", "frames")

__all__ = [
    "Answer",
    "Change",
    "Check",
    "Decision",
    "ElementWish",
    "Existing",
    "House",
    "HouseFault",
    "Intent",
    "Library",
    "Opening",
    "OwnRate",
    "Plan",
    "Problem",
    "Proposal",
    "Record",
    "Remark",
    "Reply",
    "Room",
    "Scope",
    "Stock",
    "TrimRule",
    "Vote",
    "Wing",
    "Wish",
    "add_answers",
    "add_profile",
    "beside",
    "bundled",
    "changed_since",
    "charts",
    "decide",
    "decided_folder",
    "decisions",
    "deliver",
    "demo_house",
    "differences",
    "draw_profile",
    "dxf",
    "edits",
    "fingerprint",
    "frames",
    "history",
    "history_object",
    "history_text",
    "house_library",
    "keep",
    "ladder",
    "list_intents",
    "new_house",
    "new_sending",
    "one_step",
    "open_session",
    "package_sections",
    "perspective",
    "plan",
    "plan_object",
    "plan_table",
    "plan_text",
    "png",
    "profile_section",
    "proposals_table",
    "read_house",
    "read_intent",
    "read_record",
    "read_stock",
    "rename_room",
    "room_sheet",
    "share_page",
    "standard",
    "strip",
    "svg",
    "take_answer",
    "voices",
    "votes",
    "write_house",
    "write_intent",
    "write_style",
]


def __getattr__(name: str) -> "Any":
    """A name of the public API, from where it lives."""
    if name not in _WHERE:
        raise AttributeError(f"module 'planner' has no attribute {name!r}")
    if name in _MODULES:
        return import_module(f"{_WHERE[name]}.{name}")
    found = getattr(import_module(_WHERE[name]), name)
    globals()[name] = found
    return found
