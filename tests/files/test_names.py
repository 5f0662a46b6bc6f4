"""Any title makes a file name that any file system takes."""

from hypothesis import given
from hypothesis import strategies as st

from planner.files.names import safe_name


@given(st.text(max_size=300), st.lists(st.text(max_size=20), max_size=3))
def test_a_name_is_safe_and_free(title, taken):
    name = safe_name(title, "alternative", taken)
    assert name and len(name.encode()) <= 130
    assert not set(name) & set('/\\:*?"<>|\0\n.')
    assert name == name.strip()
    assert name.casefold() not in {t.casefold() for t in taken}


def test_titles_stay_readable():
    assert safe_name("Salon für Gäste", "x") == "Salon für Gäste"
    assert safe_name("<script>alert(1)</script>", "x") == "script alert 1 script"
    assert safe_name("🙂", "alternative") == "alternative"
