"""Values that cannot be written to and are the same in every process."""

import copy
import pickle
import subprocess
import sys
from dataclasses import FrozenInstanceError, dataclass, replace
from functools import cached_property

import pytest

from planner.values import Kept, OnDemand, immutabledict


@dataclass(frozen=True)
class Whole(Kept):
    name: str
    parts: immutabledict[str, int]

    __hash__ = Kept.__hash__

    @cached_property
    def total(self) -> int:
        return sum(self.parts.values())


@dataclass(frozen=True)
class Named(Whole):
    KEY = ("name",)
    __hash__ = Kept.__hash__


def whole(kind=Whole, **parts):
    return kind("whole", immutabledict(parts))


def test_a_hash_is_of_the_fields_and_computed_once():
    one, other = whole(a=1), whole(a=1)
    assert one == other and hash(one) == hash(other)
    assert hash(one) != hash(whole(a=2))
    assert hash(one) == one.__dict__["_hash"]


def test_a_key_names_the_fields_that_are_hashed():
    assert hash(whole(Named, a=1)) == hash(whole(Named, a=2))
    assert whole(Named, a=1) != whole(Named, a=2)


@pytest.mark.parametrize("again", [lambda v: pickle.loads(pickle.dumps(v)), copy.copy, copy.deepcopy, replace])
def test_what_is_kept_beside_the_fields_stays_behind(again):
    one = whole(a=1, b=2)
    assert one.total == 3 and hash(one)
    other = again(one)
    assert other == one and set(other.__dict__) == {"name", "parts"}


def test_nothing_of_it_can_be_written_to():
    with pytest.raises(FrozenInstanceError):
        whole(a=1).name = "other"
    with pytest.raises(TypeError):
        whole(a=1).parts["a"] = 2


def test_values_on_demand_are_computed_when_asked_for_and_once():
    asked = []
    doubled = OnDemand([1, 2], lambda key: asked.append(key) or 2 * key)
    assert list(doubled) == [1, 2] and len(doubled) == 2 and asked == []
    assert doubled[2] == 4 and doubled[2] == 4 and asked == [2]
    assert dict(doubled) == {1: 2, 2: 4} and asked == [2, 1]
    with pytest.raises(KeyError):
        doubled[3]
    assert 3 not in doubled and asked == [2, 1]
    with pytest.raises(TypeError):
        doubled[1] = 5


MANY_AT_ONCE = """
import sys
from threading import Barrier, Thread
import msgspec
from planner.values import as_kind

sys.setswitchinterval(1e-6)
made = []
for number in range(300):
    part = msgspec.defstruct("Part", [("at", int), ("name", "str | None", None)], frozen=True)
    kind = msgspec.defstruct("Whole", [("who", str), ("parts", tuple[part, ...]), ("by", dict[str, list[part]])])
    begin = Barrier(8)

    def read(kind=kind, begin=begin):
        begin.wait()
        made.append(as_kind({"who": "Ada", "parts": [{"at": 1}], "by": {"x": [{"at": 2}]}}, kind))

    threads = [Thread(target=read) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
print(len(made))
"""


def test_kinds_are_read_for_the_first_time_by_many_threads_at_once():
    run = subprocess.run([sys.executable, "-c", MANY_AT_ONCE], capture_output=True, text=True, check=False)
    assert (run.returncode, run.stdout) == (0, "2400\n"), run.stderr[-500:]
