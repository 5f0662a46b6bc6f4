"""Answer files that come back: added once, whole or not at all, and refused with the place of what is wrong."""

import json
import os
import shutil
import signal
import subprocess
import time
from datetime import UTC, datetime, timedelta
from multiprocessing import get_context

import pytest

from planner import HouseFault, demo_house, new_house, rename_room
from planner.files import journal
from planner.record.entries import ElementWish, now
from planner.record.keeping import SENT, read_record
from planner.record.returned import LARGEST_FILE, MOST_ANSWERS, add_answers
from planner.record.sent import new_sending, sendings
from planner.record.voices import voices
from tests.record.said import answer_file, sealed

RAIL = {"element": "chair rail", "wanted": False}


@pytest.fixture
def house(tmp_path):
    new_house(tmp_path / "house", demo_house())
    return tmp_path / "house"


@pytest.fixture
def sent(house):
    return new_sending(house, ["formal", "easy"], "Bert")


def written(place, content):
    """An answer file on the disk, from an object, a text or bytes."""
    file = place / "answers.json"
    data = content if isinstance(content, bytes | str) else json.dumps(content)
    file.write_bytes(data.encode("utf-8", "surrogatepass") if isinstance(data, str) else data)
    return file


def refusals(house, content):
    """What is told of a file that is refused; nothing of it is in the record."""
    before = files(house)
    with pytest.raises(HouseFault) as told:
        add_answers(house, written(house.parent, content))
    assert files(house) == before and read_record(house).answers == ()
    return [str(problem).removeprefix("answers.json") for problem in told.value.problems]


def files(folder):
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_what_a_page_writes_is_in_the_record_as_it_was_said(house, sent):
    content = answer_file(sent, {"wishes": [RAIL], "remark": " books, née 🙂 "}, {"room": "Kitchen", "answer": "keep"})
    added = add_answers(house, written(house.parent, content))
    first, second = read_record(house).answers
    assert added.new == added.answers == (first, second) and added.who == "Ada Bell"
    assert (first.who, first.room, first.answer, first.remark) == ("Ada Bell", "Library", "more", "books, née 🙂")
    assert first.wishes == (ElementWish("chair rail", False),) and first.sent == sent.id
    assert first.fingerprint == sent.alternatives["formal"].fingerprint and first.time == sent.time
    assert (second.room, second.answer) == ("Kitchen", "keep")
    assert (house / "reviews" / f"Ada Bell {'f' * 32} returned.jsonl").is_file()


def test_what_was_said_in_a_file_is_taken_back_by_a_later_one(house, sent):
    add_answers(house, written(house.parent, answer_file(sent, {"remark": "we read"})))
    nothing = {"answer": "", "id": "9" * 32, "time": now()}
    added = add_answers(house, written(house.parent, answer_file(sent, nothing, id="e" * 32)))
    assert [answer.takes_back for answer in added.new] == [True]
    record = read_record(house)
    assert len(record.answers) == 2 and voices(record, "formal") == {}


def test_a_file_is_not_told_to_be_of_another_house_where_the_pages_that_were_sent_cannot_be_read(house, sent):
    content = answer_file(sent, {})
    (house / SENT).rename(house / "aside")
    (house / SENT).mkdir()
    unreadable, unknown = refusals(house, content)
    assert unreadable == "reviews/sent.jsonl: is a directory; put a plain file in its place"
    assert unknown.startswith(f', sent: no page of this house that can be read has the id "{sent.id}"')


def test_a_file_that_is_read_again_adds_nothing_whatever_it_is_called_and_however_laid_out(house, sent):
    content = answer_file(sent, {}, {"room": "Kitchen"})
    add_answers(house, written(house.parent, content))
    before = files(house)
    for again in (json.dumps(content, indent=4), json.dumps(dict(reversed(content.items())), ensure_ascii=False)):
        assert add_answers(house, written(house.parent, again)).new == ()
    assert files(house) == before


def test_of_a_later_file_of_the_same_page_only_what_is_new_is_added(house, sent):
    add_answers(house, written(house.parent, answer_file(sent, {})))
    later = answer_file(sent, {}, {"room": "Kitchen", "alternative": "easy"}, id="e" * 32)
    later["answers"][1]["fingerprint"] = sent.alternatives["easy"].fingerprint
    added = add_answers(house, written(house.parent, sealed(later, sent.secret)))
    assert [answer.room for answer in added.new] == ["Kitchen"] and len(added.answers) == 2
    assert {answer.room for answer in read_record(house).answers} == {"Library", "Kitchen"}


def test_rooms_are_followed_to_their_new_names_and_read_once_then_too(house, sent):
    file = written(house.parent, answer_file(sent, {}))
    rename_room(house, "Library", "Book Room")
    assert len(add_answers(house, file).new) == 1
    rename_room(house, "Book Room", "Study")
    assert add_answers(house, file).new == ()
    assert [answer.room for answer in read_record(house).answers] == ["Study"]


ALONE = {
    "format": (2, ", format: invalid enum value 2"),
    "house": ("Larkmead", ', house: it says "Larkmead", and the page was about "Thornapple House"'),
    "sent": ("0" * 32, f', sent: no page of this house has the id "{"0" * 32}"; the file says'),
    "id": ("../../etc", ', id: "../../etc" is no id'),
    "who": ("  ", ", who: is blank"),
    "answers": ({}, ", answers: expected `array`, got `object`"),
    "self": ("x", ": object contains unknown field `self`"),
}


@pytest.mark.parametrize("key", ALONE)
def test_a_file_that_says_something_else_is_refused_at_its_key(house, sent, key):
    value, told = ALONE[key]
    (found,) = refusals(house, answer_file(sent, {}, **{key: value}))
    assert found.startswith(told)


LATER, BEFORE = (datetime.now(UTC) + timedelta(days=days) for days in (3, -3))
IN_AN_ANSWER = [
    ({"room": "Libary"}, "room", 'there is no room "Libary"; write "Library"'),
    ({"alternative": "measured"}, "alternative", '"measured" was not in the page'),
    ({"fingerprint": "0" * 16}, "fingerprint", f'"{"0" * 16}" is not that of what the page showed'),
    ({"id": "no id"}, "id", '"no id" is no id'),
    ({"answer": "perhaps"}, "answer", "invalid enum value 'perhaps'"),
    ({"time": "soon"}, "time", '"soon" is no time'),
    ({"time": LATER.isoformat()}, "time", f'"{LATER.isoformat()}" is still to come; set the clock'),
    ({"time": BEFORE.isoformat()}, "time", f'"{BEFORE.isoformat()}" is before the page was sent'),
    ({"time": "0001-01-01T00:00:00+23:59"}, "time", '"0001-01-01T00:00:00+23:59" is no time'),
    ({"remark": "x" * 2001}, "the remark", "has 2,001 characters; keep it to 2,000"),
    ({"remark": "\ud800"}, "remark", "holds what is no text"),
    ({"remark": 5}, "remark", "expected `str`, got `int`"),
    ({"wishes": [{"element": "moat", "wanted": True}]}, "wishes", '"moat" is no element'),
    ({"wishes": [RAIL, {"element": "crown", "wanted": 1}]}, "wish 2, wanted", "expected `bool`, got `int`"),
    ({"wishes": [RAIL] * 101}, "the answer", "has 101 wishes; keep it to 100"),
    ({"wishes": [RAIL, {"element": "\udfff", "wanted": True}]}, "wish 2, element", "holds what is no text"),
]


@pytest.mark.parametrize(("change", "place", "told"), IN_AN_ANSWER, ids=range(len(IN_AN_ANSWER)))
def test_an_answer_that_says_something_else_is_refused_at_its_place(house, sent, change, place, told):
    """Sealed rightly, as by somebody who has taken the secret out of the page."""
    (found,) = refusals(house, answer_file(sent, {}, {"room": "Kitchen", **change}))
    assert found.startswith(f", answer 2, {place}: {told}")


def test_a_name_that_is_too_long_is_refused(house, sent):
    assert ", answer 1, the name: has 201 characters" in refusals(house, answer_file(sent, {}, who="x" * 201))[0]


def test_everything_that_is_wrong_is_told_at_once(house, sent):
    content = answer_file(sent, {"room": "Attic"}, {"alternative": "measured"}, house="Larkmead")
    content["who"] = ""
    places = [found.partition(":")[0] for found in refusals(house, content)]
    assert places == [", house", ", digest", ", who", ", answer 1, room", ", answer 2, alternative"]


def test_every_single_change_of_a_letter_in_a_file_is_told(house, sent):
    text = json.dumps(answer_file(sent, {"wishes": [RAIL], "remark": "as it is"}), ensure_ascii=False)
    kept = 0
    for at in range(0, len(text), 3):
        doctored = text[:at] + ("x" if text[at] != "x" else "y") + text[at + 1 :]
        try:
            add_answers(house, written(house.parent, doctored))
            kept += 1
        except HouseFault as fault:
            assert fault.problems and len(str(fault)) < 3000
    assert kept == 0 and read_record(house).answers == ()


def test_a_file_cut_short_at_any_byte_is_told(house, sent):
    data = json.dumps(answer_file(sent, {"remark": "née"}), ensure_ascii=False).encode()
    for length in range(len(data)):
        with pytest.raises(HouseFault):
            add_answers(house, written(house.parent, data[:length]))
    assert read_record(house).answers == ()


def test_the_secret_of_another_page_seals_nothing(house, sent):
    other = new_sending(house, ["formal"])
    (found,) = refusals(house, sealed(answer_file(sent, {}), other.secret))
    assert found.startswith(", digest: does not go with what the file says: it was damaged or changed")


def test_two_answers_of_one_id_are_refused(house, sent):
    assert (
        ", answer 2, id: is that of an answer before it"
        in refusals(house, answer_file(sent, {}, {"id": f"{1:032x}"}))[0]
    )


def test_an_id_that_is_in_the_record_of_something_else_is_refused(house, sent):
    add_answers(house, written(house.parent, answer_file(sent, {})))
    before = files(house)
    for doctored, told in (
        (
            answer_file(sent, {"answer": "less"}, id="e" * 32),
            "answer 1, id: is in the record already, of some",
        ),
        (answer_file(sent, {}, {"room": "Kitchen"}), "id: a file with this id was added before"),
        (answer_file(sent, {"id": "d" * 32}, who="Mallory"), "id: a file with this id was added before"),
    ):
        with pytest.raises(HouseFault, match=told):
            add_answers(house, written(house.parent, doctored))
        assert files(house) == before


def test_a_page_of_another_house_is_told(house, sent, tmp_path):
    new_house(tmp_path / "other", demo_house())
    (found,) = refusals(tmp_path / "other", answer_file(sent, {}))
    assert found.startswith(", sent: no page of this house has the id") and "add it to the house" in found


HOSTILE = [
    (b"", "is no JSON"),
    (b"[]", "is no answer file"),
    (b"null", "is no answer file"),
    (b"{", "is no JSON: line 1, column 2"),
    (b"[" * 100_000, "is nested too deeply"),
    (b'{"answers": ' + b"[" * 500 + b"]" * 500 + b"}", "expected `object`, got `array`"),
    (b'{"format": ' + b"9" * 100_000 + b"}", "is no answer file"),
    (b'{"format": 1, "format": 1}', "says a thing twice"),
    (b'{"format": NaN}', "format: expected `int`, got `float`"),
    (b"\xff\xfe{\0}\0", "is UTF-16"),
    (b'{"who": "\xff"}', "is not UTF-8"),
    (b'{"who": "\0"}', "NUL byte"),
    (b"x" * 30_000_000, "is larger than 5 MB"),
    (b"<html>" * 1000, "is no JSON"),
]


@pytest.mark.parametrize(("data", "told"), HOSTILE, ids=[told for _, told in HOSTILE])
def test_what_is_no_answer_file_is_refused_at_once_and_in_words(house, sent, data, told):
    began = time.perf_counter()
    (found,) = refusals(house, data)
    assert told in found and len(found) < 300 and time.perf_counter() - began < 2


def test_a_file_that_cannot_be_read_is_told(house, sent, tmp_path):
    os.mkfifo(tmp_path / "pipe.json")
    (tmp_path / "folder.json").mkdir()
    for name, told in (("pipe.json", "not a plain file"), ("folder.json", "is a directory"), ("none.json", "missing")):
        with pytest.raises(HouseFault, match=told):
            add_answers(house, tmp_path / name)


def test_an_answer_is_of_the_room_that_the_page_showed_though_another_has_its_name_when_it_is_given(house, sent):
    for old, new in (("Library", "Study"), ("Kitchen", "Library"), ("Study", "Kitchen")):
        rename_room(house, old, new)
    later = datetime.now(UTC).isoformat()
    file = written(house.parent, answer_file(sent, {"time": later}, {"time": later, "room": "Kitchen"}))
    add_answers(house, file)
    assert [answer.room for answer in read_record(house).answers] == ["Kitchen", "Library"]
    assert add_answers(house, file).new == ()
    rename_room(house, "Kitchen", "Book Room")
    assert [answer.room for answer in read_record(house).answers] == ["Book Room", "Library"]


def test_as_many_answers_as_a_file_may_hold_are_added_soon_and_one_more_is_refused(house, sent):
    content = answer_file(sent, *[{"remark": "x" * 200}] * MOST_ANSWERS)
    assert len(json.dumps(content)) < LARGEST_FILE
    too_many = answer_file(sent, *[{}] * (MOST_ANSWERS + 1))
    assert "answers: there are 5,001 of them" in refusals(house, too_many)[0]
    began = time.perf_counter()
    assert len(add_answers(house, written(house.parent, content)).new) == MOST_ANSWERS
    assert time.perf_counter() - began < 10


def _add(house, file, results):
    results.put(len(add_answers(house, file).new))


def test_two_processes_that_add_the_same_file_at_once_add_it_once(house, sent):
    file, context = written(house.parent, answer_file(sent, *[{}] * 200)), get_context("fork")
    results = context.Queue()
    adding = [context.Process(target=_add, args=(house, file, results)) for _ in range(6)]
    for process in adding:
        process.start()
    assert sorted(results.get(timeout=60) for _ in adding) == [0] * 5 + [200]
    for process in adding:
        process.join()
    assert len(read_record(house).answers) == 200


def test_a_process_that_is_killed_in_between_adds_all_or_nothing(house, sent, monkeypatch):
    """It ends itself at each of the steps by which a file takes its place."""
    file = written(house.parent, answer_file(sent, {}, {"room": "Kitchen"}))
    for name in ("mkdir", "replace", "fsync", "rename"):
        for allowed in range(12):
            child = os.fork()
            if not child:
                really, left = getattr(os, name), [allowed]

                def killed(*given, really=really, left=left, **named):
                    if not left[0]:
                        os.kill(os.getpid(), signal.SIGKILL)
                    left[0] -= 1
                    return really(*given, **named)

                setattr(os, name, killed)
                add_answers(house, file)
                os._exit(0)
            os.waitpid(child, 0)
            record = read_record(house)
            assert len(record.answers) in (0, 2) and record.warnings == ()
            shutil.rmtree(house / journal.STAGED, ignore_errors=True)
            for path in (house / "reviews").glob("* returned.jsonl"):
                path.unlink()
    assert len(add_answers(house, file).new) == 2


def test_pages_that_cannot_be_read_in_the_record_are_passed_over(house, sent):
    lines = (house / SENT).read_bytes()
    hostile = [b"?", b"{}", b'{"id": 5}', lines.replace(sent.secret.encode(), b"zz"), b"[" * 10_000]
    (house / SENT).write_bytes(b"\n".join([*hostile, lines]))
    problems = []
    assert sendings(house, problems) == (sent,) and len(problems) == 5
    assert add_answers(house, written(house.parent, answer_file(sent, {}))).new


@pytest.mark.parametrize("time", ["0001-01-01T00:00:00+00:00", "9999-12-31T23:59:59+00:00"])
def test_a_page_that_says_it_was_sent_at_the_end_of_time_breaks_nothing(house, sent, time):
    text = (house / SENT).read_text()
    (house / SENT).write_text(text.replace(sent.time, time))
    file = written(house.parent, answer_file(sent, {}))
    if time < sent.time:
        assert add_answers(house, file).new
    else:
        with pytest.raises(HouseFault, match="before the page was sent"):
            add_answers(house, file)


def test_what_was_sent_is_no_entry_of_the_record(house, sent):
    assert read_record(house) == ((), ())


SEALING = """
const { createHmac } = require("node:crypto");
const sorted = (v) => Array.isArray(v) ? v.map(sorted) : v && typeof v === "object"
    ? Object.fromEntries(Object.keys(v).sort().map((key) => [key, sorted(v[key])])) : v;
const { content, secret } = JSON.parse(require("node:fs").readFileSync(0));
const digest = createHmac("sha256", Buffer.from(secret, "hex")).update(JSON.stringify(sorted(content))).digest("hex");
console.log(digest);
"""


@pytest.mark.skipif(not shutil.which("node"), reason="no node to run a page's script")
def test_a_script_seals_a_file_as_it_is_checked(house, sent):
    words = 'née 🙂 " \\ / \b\f\n\r\t \x01 \x7f \u2028 \u2029 </script> ﷽'
    content = answer_file(sent, {"remark": words, "wishes": [RAIL]})
    digest = content.pop("digest")
    told = json.dumps({"content": content, "secret": sent.secret})
    ran = subprocess.run(["node", "-e", SEALING], input=told, capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == digest
