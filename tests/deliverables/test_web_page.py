"""The page that is sent to clients: it holds what they may see, fetches nothing, and is written whole or not at all."""

import base64
import gzip
import hashlib
import io
import json
import random
import re
import shutil
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from click.testing import CliRunner
from PIL import Image

from planner import HouseFault, demo_house, edits, plan, read_house, read_stock, share_page
from planner.cli import main
from planner.deliverables import page_facts, web_page
from planner.deliverables.client_words import cost_change
from planner.deliverables.page_facts import Drawings
from planner.drawings.perspective import perspective
from planner.files import journal
from planner.house.notes import Note, change_note
from planner.intent.folder import read_intent, write_intent
from planner.planning.walking import walk
from planner.record.answers import propose
from planner.record.entries import Answer, ElementWish, Reply
from planner.record.keeping import SENT, keep, open_session, say
from planner.record.one_step import one_step
from planner.record.sent import sendings
from tests.trade_words import trade_words

ALTERNATIVES = ("easy", "formal", "measured")


class Elements(HTMLParser):
    """Every element of a page with its attributes, and the text in scripts and styles."""

    def __init__(self, page):
        super().__init__()
        self.found, self.inside = [], []
        self.feed(page)

    def handle_starttag(self, tag, attributes):
        self.found.append((tag, dict(attributes)))
        self.inside.append([tag, dict(attributes), ""])

    def handle_endtag(self, tag):
        self.inside.append([f"/{tag}", {}, ""])

    def handle_data(self, data):
        if self.inside:
            self.inside[-1][2] += data


def facts_of(page):
    ((_, _, text),) = (each for each in Elements(page).inside if each[1].get("id") == "facts")
    return json.loads(text)


def unpacked(drawing):
    return gzip.decompress(base64.b64decode(drawing)).decode()


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    return shutil.copytree(demo_house(), tmp_path_factory.mktemp("shared") / "house")


@pytest.fixture(scope="module")
def shared(house):
    return share_page(house, house.parent / "page.html", who="Bert")


@pytest.fixture(scope="module")
def page(shared):
    return shared.file.read_text("utf-8")


@pytest.fixture(scope="module")
def facts(page):
    return facts_of(page)


@pytest.fixture(scope="module")
def plans(house):
    facts = read_house(house)[0]
    stock = read_stock(house, facts.unit)
    return {name: plan(facts, read_intent(house, name), stock) for name in ALTERNATIVES}


@pytest.fixture
def own(tmp_path):
    """A house of a test's own."""
    return shutil.copytree(demo_house(), tmp_path / "house")


def test_the_demo_house_with_its_alternatives_takes_less_than_5_mb(shared, facts):
    assert shared.size == shared.file.stat().st_size < 5_000_000
    assert [each["name"] for each in facts["alternatives"]] == [*ALTERNATIVES]
    drawn = [room for each in facts["alternatives"] for room in each["rooms"].values()]
    assert len(drawn) == 3 * 25
    assert all(room["door"] and room["walls"][1]["drawing"] and room["all"] for room in drawn)
    ways = [way for room in drawn for way in room["ways"].values() if "moves" in way]
    assert ways and all(way["door"] and way["all"] for way in ways)


def test_an_answer_is_drawn_as_its_plan_has_it(facts, plans):
    (measured,) = (each for each in facts["alternatives"] if each["name"] == "measured")
    way = measured["rooms"]["Library"]["ways"]["more"]
    after = one_step(plans["measured"], "Library", "richer").planned
    for key, scene in (
        ("door", perspective(after, "Library", page_facts.DOOR)),
        ("all", page_facts._sheet(after, "Library")),
    ):
        assert facts["drawings"][way[key]["at"]] == page_facts.packed(scene).text
    assert unpacked(facts["drawings"][way["all"]["at"]]).count("<text") > 20
    assert way["door"]["at"] != measured["rooms"]["Library"]["door"]["at"]


def texts(facts):
    """Every text of the page that is read, and what is written in its drawings and charts."""
    if isinstance(facts, dict):
        for key, found in facts.items():
            if key == "drawings":
                yield from (word for each in found for word in written(unpacked(each)))
            elif key in ("light", "dark"):
                yield from written(found)
            elif key not in ("sent", "element", "fingerprint"):
                yield from texts(found)
    elif isinstance(facts, list):
        for each in facts:
            yield from texts(each)
    elif isinstance(facts, str):
        yield facts


def written(drawing):
    return (
        re.sub(r"<[^>]*>", "", text) for text in re.findall(r"<(?:text|title|desc)\b.*?</(?:text|title|desc)>", drawing)
    )


def test_no_word_of_the_trade_is_on_the_page_nor_in_its_drawings(facts, plans):
    every = [*texts(facts)]
    assert any("rail at chair height" in text for text in every) and any("door trim" in text for text in every)
    library = plans["measured"].library
    assert {text: words for text in every if (words := trade_words(text, library))} == {}


def test_a_client_counts_up_to_what_the_house_goes_to(facts):
    assert [(each["name"], each["tiers"], each["richest"]) for each in facts["alternatives"]] == [
        ("easy", 5, 3),
        ("formal", 5, 5),
        ("measured", 5, 4),
    ]


def test_the_client_walks_through_the_page_as_through_the_app(facts, plans):
    assert facts["walk"] == [*walk(plans["easy"])]


def test_each_room_stands_in_its_box_of_the_step_down_in_the_row_of_its_tier(facts):
    for each in facts["alternatives"]:
        for course in each["steps"]:
            assert course["boxes"].keys() == each["rooms"].keys()
            for room, (left, top, right, bottom) in course["boxes"].items():
                assert 0 <= left < right <= course["width"] and 0 <= top < bottom <= course["height"]
                tier = each["rooms"][room]["tier"]
                nearest = min(course["rows"], key=lambda row: abs(course["rows"][row] - (top + bottom) / 2))
                assert nearest == str(tier), room


def test_whom_it_is_sent_to_reads_what_was_said_and_replied_and_nobody_else_s(own, tmp_path):
    file = open_session(own, "Ada Bell")
    first = say(file, "Ada Bell", "measured", "Library", "more", "we read", [ElementWish("chair rail", False)])
    other = say(open_session(own, "Cy Dale"), "Cy Dale", "measured", "Library", "less", "too dear")
    for said, word in ((first, "With pleasure."), (other, "Let us see.")):
        about = {"alternative": "measured", "room": "Library", "to": said.id}
        keep(file, Reply(who="Bert", word=word, **about))
        keep(file, Reply(who="Bert", taken="pin", **about))
    page = share_page(own, tmp_path / "page.html", ["measured"], "Bert", to=" ada  BELL ").file.read_text("utf-8")
    facts = facts_of(page)
    assert facts["sent"]["to"] == "ada  BELL"
    assert facts["alternatives"][0]["said"] == {
        "Library": {
            "answer": "more",
            "remark": "we read",
            "wishes": ["without a rail at chair height"],
            "replies": ["With pleasure.", "Your wish is taken into the plan."],
        }
    }
    assert "too dear" not in page and "Let us see" not in page
    to_nobody = facts_of(share_page(own, tmp_path / "other.html", ["measured"], "Bert").file.read_text("utf-8"))
    assert to_nobody["alternatives"][0]["said"] == {} and to_nobody["sent"]["to"] == ""


def test_nothing_in_it_is_fetched_from_anywhere(page, facts):
    elsewhere = set(re.findall(r"(?:https?:)?//[^\s\"'<>)]+\.[^\s\"'<>)]+", json.dumps(facts)))
    elsewhere |= set(re.findall(r"https?://[^\s\"'<>)]+", page))
    assert {address for address in elsewhere if "www.w3.org/" not in address} == set()
    for tag, attributes in Elements(page).found:
        assert {"src", "href", "action", "formaction", "srcset", "data", "style"}.isdisjoint(attributes), tag
        assert tag not in ("link", "iframe", "object", "embed", "base", "a", "img")
    for drawing in map(unpacked, facts["drawings"]):
        assert drawing.startswith("<svg ")
        assert set(re.findall(r'(?:href|src)="([^"#][^"]*)"|url\(([^#)][^)]*)\)', drawing)) == set()


def test_its_policy_lets_run_what_stands_in_it_and_nothing_else(page):
    found = Elements(page)
    (policy,) = (a["content"] for _, a in found.found if a.get("http-equiv") == "Content-Security-Policy")
    rules = dict(rule.split(" ", 1) for rule in policy.split("; "))
    assert rules["default-src"] == "'none'" and rules["img-src"] == "data:"

    def hashes(tag):
        texts = [text for name, a, text in found.inside if name == tag and "type" not in a]
        return {f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'" for text in texts}

    assert set(rules["script-src"].split()) == hashes("script") and len(hashes("script")) == len(web_page.SCRIPTS)
    assert set(rules["style-src"].split()) == hashes("style") and len(hashes("style")) == 1
    assert not any(name.startswith("on") for _, attributes in found.found for name in attributes)


def test_its_scripts_set_words_as_text_and_make_no_script_of_them():
    scripts = "".join(web_page._text(name) for name in web_page.SCRIPTS)
    for word in ("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "Function(", "fetch("):
        assert word not in scripts, word


def test_what_an_answer_does_is_what_its_plan_says(house, facts, plans):
    stock = read_stock(house, plans["easy"].house.unit)
    told = {each["name"]: each for each in facts["alternatives"]}
    asked = 0
    for name, planned in plans.items():
        for room in planned.rooms[::3]:
            for said, way in told[name]["rooms"][room.room.name]["ways"].items():
                if "why" in way:
                    continue
                answer = Answer(who="Ada", alternative=name, room=room.room.name, answer=said)
                after = plan(planned.house, propose(planned.intent, planned, [answer]), stock, planned.library)
                pairs = zip(planned.rooms, after.rooms, strict=True)
                assert way["moves"] == {a.room.name: [a.tier, b.tier] for a, b in pairs if a.tier != b.tier}
                assert way["cost"] == cost_change(round(after.cost - planned.cost, 2), planned.cost)
                asked += 1
    assert asked > 10


def test_the_single_effects_are_those_of_what_if(facts, plans):
    """Of all ways that an answer leaves, the one that is nearest to what rooms ask for, then the cheapest."""
    told = {each["name"]: each for each in facts["alternatives"]}["measured"]
    planned, asked = plans["measured"], 0
    for room in planned.rooms:
        way = told["rooms"][room.room.name]["ways"]["more"]
        if "why" in way:
            assert way["why"].endswith(".")
            continue
        left = planned.what_if(room.room.name)[room.tier : room.highest]
        best = min((w for w in left if w.moves is not None), key=lambda w: (round(w.objective, 6), w.cost))
        assert way["moves"] == {room.room.name: [room.tier, best.tier], **{n: [*m] for n, m in best.moves.items()}}
        assert way["cost"] == cost_change(best.cost, planned.cost)
        asked += 1
    assert asked > 5


def test_a_single_wish_is_told_with_what_its_plan_says(own, tmp_path):
    """Of the elements that the designer offers, and of no others."""
    write_intent(replace(read_intent(own, "measured"), offered=("chair rail",)), own, "measured")
    told = facts_of(share_page(own, tmp_path / "page.html", ["measured"]).file.read_text("utf-8"))
    (shown,), asked = told["alternatives"], 0
    planned = plan(read_house(own)[0], read_intent(own, "measured"), read_stock(own, "in"))
    for room in ("Library", "West Bedroom", "Dining Room"):
        for found in shown["rooms"][room]["wishes"]:
            wish = ElementWish(found["element"], found["wanted"])
            answer = Answer(who="Ada", alternative="measured", room=room, wishes=(wish,))
            after = plan(planned.house, propose(planned.intent, planned, [answer]), planned.stock)
            assert found["element"] == "chair rail"
            assert found["words"] in ("With a rail at chair height", "Without a rail at chair height")
            assert found["cost"] == cost_change(round(after.cost - planned.cost, 2), planned.cost)
            asked += 1
    assert asked == 3


def test_more_rooms_than_a_page_holds_are_told(own, tmp_path, monkeypatch):
    monkeypatch.setattr(web_page, "MOST_ROOMS", 50)
    with pytest.raises(HouseFault, match="25 rooms, to be shown 3 times; send fewer alternatives"):
        share_page(own, tmp_path / "page.html")


def test_a_client_is_told_nothing_that_is_for_others(own, tmp_path):
    (own / "reviews").mkdir()
    line = {"time": "2030-01-01T00:00:00+00:00", "alternative": "easy", "reviewer": "Cy Other", "room": "Library"}
    (own / "reviews" / "cy.jsonl").write_text(json.dumps({**line, "answer": "keep", "remark": "secretremark"}) + "\n")
    change_note(own, Note("Library"), Note("Library", "", "worm in the north wall"))
    change_note(own, Note("Kitchen"), Note("Kitchen", "", "we keep the old range", (), True))
    page = share_page(own, tmp_path / "page.html", ["easy"]).file.read_text("utf-8")
    drawn = facts_of(page)["drawings"]
    page = page.replace(json.dumps(drawn, separators=(",", ":")), "".join(map(unpacked, drawn)))
    assert "we keep the old range" in page and "<svg " in page
    stock = read_stock(own, "in")
    codes = [profile.code for profile in stock.profiles]
    (easy,) = (plan(read_house(own)[0], read_intent(own, "easy"), stock),)
    for word in ("worm", "Cy Other", "secretremark", str(own), str(tmp_path), "importance", "abrupt", *codes):
        assert word not in page, word
    rooms = " ".join(easy.by_name)
    unshared = [name for name in easy.tier_names if name not in rooms]
    assert unshared and [name for name in unshared if name in page] == []


def test_hostile_names_stay_words(own, tmp_path):
    hostile = "</script><img src=x onerror=alert(1)>"
    for file in (own / "rooms.csv", own / "openings.csv", own / "fixtures.csv", own / "stairs.csv"):
        file.write_text(file.read_text().replace("Library", "</script><b>$x"))
    for file in (own / "alternatives").glob("*.toml"):
        file.write_text(file.read_text().replace("Library", "</script><b>$x"))
    toml = own / "house.toml"
    toml.write_text(toml.read_text().replace("Thornapple House", hostile))
    write_intent(replace(read_intent(own, "easy"), title="<svg onload=alert(2)>"), own, "easy")
    page = share_page(own, tmp_path / "page.html", ["easy"], who="<script>").file.read_text("utf-8")
    plain = {tag for tag, _ in Elements(web_page._text("page.html")).found} | {"script"}
    assert {tag for tag, _ in Elements(page).found} == plain
    facts = facts_of(page)
    assert facts["house"] == hostile and "</script><b>$x" in facts["alternatives"][0]["rooms"]
    assert facts["sent"]["who"] == "<script>" and "onload=alert" in json.dumps(facts)


def test_a_house_without_outlines_and_without_alternatives_has_a_page(tmp_path):
    own = tmp_path / "blank"
    CliRunner().invoke(main, ["new", str(own), "--blank"])
    facts = facts_of(share_page(own, tmp_path / "page.html").file.read_text("utf-8"))
    assert [each["name"] for each in facts["alternatives"]] == [""]
    assert facts["alternatives"][0]["title"] == "As the house stands"
    assert [*facts["alternatives"][0]["maps"][0]["outlines"]] == [room["name"] for room in facts["rooms"]]


def test_drawings_are_kept_once_and_end_where_there_is_no_room():
    kept = Drawings(room=10, room_for_photographs=31)
    assert [kept.put(drawing) for drawing in ("12345", "12345", "123456", "1234")] == [0, 0, None, 1]
    assert [kept.photograph(jpeg) for jpeg in (b"12345", b"12345", b"123")] == [2, 2, None]


def test_photographs_for_the_client_stand_in_the_page(own):
    """Those that there is room for; the page says how many there are besides."""
    pictures = []
    for seed in (1, 2):
        out, noise = io.BytesIO(), random.Random(seed).randbytes(3 * 64 * 64)
        Image.frombytes("RGB", (64, 64), noise).resize((400, 300)).save(out, "JPEG", quality=90)
        pictures.append((f"{seed}.jpg", out.getvalue()))
    names = tuple(name for name, _ in pictures)
    change_note(own, Note("Kitchen"), Note("Kitchen", "", "the old range", names, True), pictures)
    kept = Drawings(room_for_photographs=len(pictures[0][1]) * 2)
    (note,) = page_facts._notes(own, plan(read_house(own)[0]), "Kitchen", kept)
    assert note["lines"] == ["the old range"] and len(note["pictures"]) == 1 and note["more"] == 1
    (address,) = kept.places
    (jpeg,) = (base64.b64decode(address.removeprefix("data:image/jpeg;base64,")),)
    assert Image.open(io.BytesIO(jpeg)).size == (400, 300)


def test_a_page_that_cannot_be_written_leaves_the_former_one(own, tmp_path, monkeypatch):
    file = tmp_path / "page.html"
    file.write_text("the former page")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(journal, "write", full)
    with pytest.raises(HouseFault, match="No space left"):
        share_page(own, file, ["easy"])
    assert file.read_text() == "the former page"


def test_a_house_that_changes_meanwhile_is_told(own, tmp_path, monkeypatch):
    changed = edits.pin(read_intent(own, "easy"), "Library", 3)
    real = web_page.new_sending

    def later(*given):
        write_intent(changed, own, "easy")
        return real(*given)

    monkeypatch.setattr(web_page, "new_sending", later)
    with pytest.raises(HouseFault, match="was changed meanwhile; share it again"):
        share_page(own, tmp_path / "page.html", ["easy"])
    assert not (tmp_path / "page.html").exists()


REFUSED = [
    (("rooms.csv",), "rooms.csv: is no name of a page; end it in .html"),
    (("page.html", "--alternative", "formall"), "formal"),
    (("page.html", "--alternative", "clash"), "no plan keeps every rule"),
]


@pytest.mark.parametrize(("arguments", "told"), REFUSED)
def test_what_cannot_be_shared_is_told_and_nothing_is_sent(own, arguments, told):
    (own / "alternatives" / "clash.toml").write_text(
        'title = "Clash"\n[rooms."Entry Hall"]\ntier = 4\n[rooms."Drawing Room"]\ntier = 1\n'
    )
    before = (own / "rooms.csv").read_bytes()
    out, *more = arguments
    found = CliRunner().invoke(main, ["share", str(own), "--out", str(own / out), *more])
    assert found.exit_code == 2 and told in found.output and "Traceback" not in found.output
    assert (own / "rooms.csv").read_bytes() == before
    assert not (own / "page.html").exists() and not (own / SENT).exists()


def test_the_command_says_what_it_wrote(own, tmp_path):
    out = tmp_path / "page.html"
    found = CliRunner().invoke(main, ["share", str(own), "--out", str(out), "-a", "easy", "--by", "Bert"])
    assert found.exit_code == 0, found.output
    assert f"Wrote {out}: 1 alternative, 25 rooms, {out.stat().st_size / 1_000_000:.1f} MB" in found.output
    (sent,) = sendings(own)
    assert sent.who == "Bert" and facts_of(out.read_text("utf-8"))["sent"]["secret"] == sent.secret


def noted(own):
    """The house with a note and a photograph for the client, and another that is not for the client."""
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "green").save(out, "JPEG")
    pictures = [("a.jpg", out.getvalue())]
    change_note(own, Note("Kitchen"), Note("Kitchen", words="the old range", for_client=True), pictures)
    change_note(own, Note("Library"), Note("Library", words="damp"), pictures)
    return own / "notes"


def looped(notes):
    """A folder that nobody can look into."""
    shutil.rmtree(notes)
    notes.symlink_to(notes)


LEFT_OUT = [
    (lambda notes: (notes / "kitchen-1.jpg").write_bytes(b"no picture"), "notes/kitchen-1.jpg: "),
    (lambda notes: (notes / "kitchen-1.jpg").unlink(), "notes/kitchen-1.jpg: "),
    (lambda notes: (notes / "notes.csv").write_bytes(b"room,note\n\xff\n"), "notes/notes.csv"),
    (looped, "notes: "),
]


@pytest.mark.parametrize(("harm", "told"), LEFT_OUT)
def test_notes_for_the_client_that_cannot_be_read_are_told_by_the_one_who_shares(own, tmp_path, harm, told):
    harm(noted(own))
    found = CliRunner().invoke(main, ["share", str(own), "--out", str(tmp_path / "page.html"), "-a", "easy"])
    assert found.exit_code == 0, found.output
    assert f"Notes or photographs are not in it:\n{told}" in found.stderr


def test_what_is_not_for_the_client_is_not_missed_where_it_cannot_be_read(own, tmp_path):
    (noted(own) / "library-1.jpg").unlink()
    assert share_page(own, tmp_path / "page.html", ["easy"]).left_out == ()
