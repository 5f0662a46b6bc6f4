"""The public API: small, whole, said what it takes, with examples that run."""

import inspect
import re
from pathlib import Path

import pytest

import planner

README = Path(__file__).parents[1] / "README.md"
FUNCTIONS = [name for name in planner.__all__ if inspect.isfunction(getattr(planner, name))]
RAISES = {"plan", "read_house", "write_house", "new_house", "list_intents", "read_intent", "write_intent", "read_stock"}
RAISES |= {"add_profile", "beside", "ladder", "one_step", "perspective", "rename_room", "write_style"}
RAISES |= {"add_answers", "decide", "decided_folder", "deliver", "keep", "new_sending", "share_page", "take_answer"}


def test_every_name_is_there_and_nothing_else_is_offered():
    assert sorted(planner.__all__) == list(planner.__all__)
    assert set(planner.__all__) == set(planner._WHERE)
    for name in planner.__all__:
        assert getattr(planner, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'plans'"):
        getattr(planner, "pl" + "ans")


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_function_says_what_it_takes_and_shows_an_example(name):
    function = getattr(planner, name)
    said = inspect.getdoc(function)
    assert ">>> " in said, "no example"
    for parameter in inspect.signature(function).parameters:
        assert re.search(rf"^(\w+, )*{parameter}(, \w+)* : ", said, re.MULTILINE), f"nothing on {parameter}"
    assert ("Raises\n------" in said) == (name in RAISES)


@pytest.mark.parametrize("name", [name for name in planner.__all__ if inspect.isclass(getattr(planner, name))])
def test_a_class_says_what_it_is(name):
    assert len(inspect.getdoc(getattr(planner, name))) > 40


def test_the_script_of_the_readme_runs(tmp_path, monkeypatch, capsys):
    (script,) = re.findall(r"<!-- script -->\n```python\n(.*?)```", README.read_text("utf-8"), re.DOTALL)
    monkeypatch.chdir(tmp_path)
    lines = [line for line in script.splitlines() if line and not line.startswith(("import", "from"))]
    assert len(lines) <= 10
    exec(compile(script, "README.md", "exec"), {})
    assert "pinned to tier 4" in capsys.readouterr().out
    assert (tmp_path / "library.dxf").read_text().lstrip().startswith("0")
