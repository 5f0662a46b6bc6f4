"""Sessions, by a clock that the test sets."""

from planner.server.sessions import LASTING, Sessions


def test_a_session_is_forgotten_a_while_after_its_last_page_has_left():
    now = [0.0]
    sessions = Sessions(1, lambda: now[0])
    sessions.enter("one", "Ottilie")
    sessions.enter("one", "Ottilie")
    assert sessions.has_page("one") and not sessions.has_page("two")
    sessions.leave("one")
    now[0] += 2 * LASTING
    assert sessions.full and sessions.has_page("one")
    assert sessions.full and sessions.owns("one", "Ottilie")
    sessions.leave("one")
    assert not sessions.has_page("one")
    now[0] += 0.9 * LASTING
    assert sessions.full and sessions.admits("one", "Ottilie") and not sessions.admits("two", "Ottilie")
    now[0] += 0.2 * LASTING
    assert not sessions.full and sessions.admits("two", "Ottilie") and not sessions.owns("one", "Ottilie")


def test_a_session_is_one_visitor_s_and_has_a_name():
    sessions = Sessions(9)
    sessions.enter("one", "Ottilie")
    assert not sessions.admits("one", "Ruprecht") and not sessions.owns("one", "Ruprecht")
    assert not sessions.admits("", "Ottilie")
