"""Faults that nobody could read one by one, and names that are like others."""

from planner.files.problems import MOST_TOLD, HouseFault, Problem, first_of, nearest, summed_up


def problems(count: int, file: str = "rooms.csv", severity="error"):
    return (Problem(file, row, "use", "is blank", "write one", severity) for row in range(count))


def test_no_more_faults_are_looked_for_than_are_told():
    looked_at = []
    told = list(first_of(looked_at.append(p) or p for p in problems(100_000)))
    assert len(told) == MOST_TOLD + 1 == len(looked_at)
    assert told[-1].row is None and "more faults" in told[-1].message


def test_few_faults_are_told_as_they_are():
    assert list(first_of(problems(MOST_TOLD))) == list(summed_up(problems(MOST_TOLD))) == list(problems(MOST_TOLD))


def test_what_is_summed_up_is_counted_by_file_and_severity():
    found = [*problems(500), *problems(3, "openings.csv"), *problems(201, severity="warning")]
    told = HouseFault(found).problems
    assert len(told) == MOST_TOLD + 3 + MOST_TOLD + 2
    assert [(p.file, p.severity, p.message) for p in told[-2:]] == [
        ("rooms.csv", "error", "there are 300 problems more"),
        ("rooms.csv", "warning", "there are 1 problems more"),
    ]


def test_the_likest_name_comes_first_and_an_unlike_one_not_at_all():
    known = [f"Room {number}" for number in range(20_000)] + ["Dining Room"]
    assert nearest("dinning room", known, 1) == ("Dining Room",)
    assert nearest("Zzz", known) == ()
