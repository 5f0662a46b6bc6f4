"""Sources parsed one after another."""

import ast
import threading
import time

from planner.server.in_turn import in_turn


def at_once(compiling, *given, threads=4):
    """The most calls of `compile` that ran at the same moment."""
    running, most = [], []

    def compile(*given, **named):
        running.append(1)
        time.sleep(0.01)
        most.append(len(running))
        running.pop()

    wrapped = compiling(compile)
    calls = [threading.Thread(target=wrapped, args=given) for _ in range(threads)]
    for call in calls:
        call.start()
    for call in calls:
        call.join()
    return max(most)


def test_nodes_are_made_by_one_thread_at_a_time():
    assert at_once(in_turn, "1", "<text>", "exec", ast.PyCF_ONLY_AST) == 1
    assert at_once(lambda compile: compile, "1", "<text>", "exec", ast.PyCF_ONLY_AST) > 1


def test_what_makes_no_nodes_waits_for_nothing():
    assert at_once(in_turn, "1", "<text>", "exec") > 1


def test_compile_goes_on_as_it_was():
    compiling = in_turn(compile)
    assert ast.unparse(compiling("a  =  1", "<text>", "exec", flags=ast.PyCF_ONLY_AST)) == "a = 1"
    assert eval(compiling("1 + 1", "<text>", "eval")) == 2
