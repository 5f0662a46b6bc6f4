"""Sources are parsed one after another.

While Python 3.11 turns a parsed source into nodes, the depth that it has reached stands in one place for all threads:
two that do so at once may each end with a SystemError, "AST constructor recursion depth mismatch" (seen on 3.11.7).
Every session of an app parses the cells of its notebook in a thread of its own.
"""

import ast
import builtins
from collections.abc import Callable
from functools import wraps
from threading import RLock
from typing import Any

FLAGS = 3
"""Where `compile` has its flags."""


def in_turn(compile: Callable[..., Any]) -> Callable[..., Any]:
    """`compile`, of whose calls that make nodes no two run at once."""
    turn = RLock()

    @wraps(compile)
    def compiling(*given: Any, **named: Any) -> Any:
        flags = given[FLAGS] if len(given) > FLAGS else named.get("flags", 0)
        if not flags & ast.PyCF_ONLY_AST:
            return compile(*given, **named)
        with turn:
            return compile(*given, **named)

    return compiling


def parse_in_turn() -> None:
    """From now on sources are parsed one after another in this process, whoever parses them."""
    if not hasattr(builtins.compile, "__wrapped__"):
        builtins.compile = in_turn(builtins.compile)
