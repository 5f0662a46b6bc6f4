"""The latest of each person holds, contradictions are found, and replies belong to the answer that they are to."""

from msgspec.structs import replace

from planner.record.entries import Answer, ElementWish, Reply, Vote
from planner.record.keeping import Record
from planner.record.voices import latest_of_each, voices, votes
from tests.record.said import at


def said(who, minutes, answer="", room="Library", **more):
    return Answer(who=who, alternative="formal", room=room, answer=answer, time=at(minutes), **more)


def replied(answer, **more):
    return Reply(who="Bert", alternative="formal", room=answer.room, to=answer.id, time=at(99), **more)


def test_a_later_answer_of_the_same_person_takes_the_place_of_the_earlier():
    first, other, last = said("Ada", 0, "more"), said("Cy", 1, "keep"), said(" ada", 2, "less")
    assert latest_of_each([last, other, first], "formal") == (other, last)
    assert latest_of_each([first], "easy") == ()
    room = voices(Record((first, other, last)), "formal")["Library"]
    assert [voice.answer for voice in room.voices] == [other, last]


def test_what_is_taken_back_is_said_no_more_until_it_is_said_again():
    first, other = said("Ada", 0, "more"), said("Cy", 1, "less")
    back, again = said(" ada", 2, remark=" "), said("Ada", 3, "keep")
    assert latest_of_each([first, other, back], "formal") == (other,)
    assert voices(Record((first, other, back)), "formal")["Library"].disputed == ()
    assert voices(Record((first, back)), "formal") == {}
    assert latest_of_each([first, other, back, again], "formal") == (other, again)


def test_two_who_would_have_it_otherwise_dispute_it_and_two_alike_agree():
    def of(*answers):
        return voices(Record(answers), "formal")["Library"]

    assert of(said("Ada", 0, "more"), said("Cy", 1, "less")).disputed == ("richness",)
    assert of(said("Ada", 0, "more"), said("Cy", 1, "keep")).disputed == ("richness",)
    assert of(said("Ada", 0, "more"), said("Ada", 1, "less")).disputed == ()
    assert of(said("Ada", 0, "more"), said("Cy", 1, "more")).agreed
    assert of(said("Ada", 0, "more"), said("Cy", 1, remark="hm")).agreed
    assert not of(said("Ada", 0, "more")).agreed


def test_wishes_that_contradict_each_other_are_disputed_by_their_element():
    rail, no_rail, crown = ElementWish("chair rail", True), ElementWish("chair rail", False), ElementWish("crown", True)
    one, two = said("Ada", 0, wishes=(rail, crown)), said("Cy", 1, wishes=(no_rail, crown))
    assert voices(Record((one, two)), "formal")["Library"].disputed == ("chair rail",)
    assert voices(Record((one, replace(two, wishes=(crown,)))), "formal")["Library"].disputed == ()


def test_a_room_is_open_until_all_of_its_answers_are_answered_and_taken_when_all_are_taken():
    one, two = said("Ada", 0, "more"), said("Cy", 1, "more")
    taken_one, word, taken_two = replied(one, taken="range"), replied(two, word="later"), replied(two, taken="pin")

    def outcome(*replies):
        return voices(Record((one, two, *replies)), "formal")["Library"].outcome

    assert [outcome(), outcome(taken_one), outcome(word)] == ["open"] * 3
    assert outcome(taken_one, word) == "answered"
    assert outcome(taken_one, word, taken_two) == "taken"


def test_an_answer_after_a_reply_is_open_again():
    one, again = said("Ada", 0, "more"), said("Ada", 100, "less")
    room = voices(Record((one, replied(one, taken="range"), again)), "formal")["Library"]
    assert room.outcome == "open" and room.voices[0].replies == ()


def test_of_votes_the_latest_of_each_person_holds_and_one_withdrawn_does_not():
    def vote(who, minutes, how, alternative="formal"):
        return Vote(who=who, alternative=alternative, vote=how, time=at(minutes))

    ada, cy, cy_again, dee = (
        vote("Ada", 0, "for"),
        vote("Cy", 1, "for"),
        vote("cy", 2, "against"),
        vote("Dee", 3, "for"),
    )
    dee, gone = vote("Dee", 3, "for"), vote("Dee", 4, "withdrawn")
    assert votes(Record((gone, dee, cy_again, cy, ada, vote("Ada", 9, "against", "easy"))), "formal") == (ada, cy_again)
