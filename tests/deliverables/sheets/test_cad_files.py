import io
from time import process_time

import ezdxf
import pytest
from ezdxf.bbox import extents

from planner import deliver
from planner.deliverables.papers import SIZES, is_paper_name
from planner.deliverables.sheets.cad_files import cad_papers, package_scene
from planner.deliverables.sheets.drawn_papers import drawn_papers
from planner.deliverables.sheets.package_sheets import cuts
from planner.drawings.scene import Group
from tests.drawn import DAY, LONG, demo, hostile, stamp


def read(paper):
    return ezdxf.read(io.StringIO(paper.data.decode()))


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_every_package_and_every_room_has_a_file_that_audits_clean(unit):
    planned = demo(unit=unit)
    papers = list(cad_papers(planned, stamp(planned)))
    assert len(papers) == len(planned.packages) + len(planned.rooms)
    for paper in papers:
        doc = read(paper)
        assert not doc.audit().has_errors, paper.name
        assert doc.units == (ezdxf.units.MM if unit == "mm" else ezdxf.units.IN)
        said = {entity.dxf.text for entity in doc.modelspace().query("TEXT")}
        assert any(stamp(planned).fingerprint in text for text in said)


def test_an_elevation_is_in_real_inches():
    planned = demo()
    paper = next(p for p in cad_papers(planned, stamp(planned)) if p.name == "dxf/rooms/library.dxf")
    lines = read(paper).modelspace().query('LINE[layer=="CUT"]')
    long = {round(e.dxf.start.distance(e.dxf.end), 3) for e in lines}
    assert {wall.length for wall in planned.walls["Library"]} <= long
    assert planned.walls["Library"][0].ceiling in long


def test_the_sections_of_a_package_stand_clear_of_one_another():
    for package in demo("formal").packages:
        scene = package_scene(demo("formal"), package)
        boxes = []
        for shape in scene.shapes:
            assert isinstance(shape, Group)
            boxes.append(type(scene)((shape,), "").bounds())
        assert len(boxes) == sum(not cut.opening for cut in cuts(demo("formal"), package))
        for n, a in enumerate(boxes):
            for b in boxes[n + 1 :]:
                assert min(a.x1, b.x1) <= max(a.x0, b.x0) or min(a.y1, b.y1) <= max(a.y0, b.y0)


def test_names_of_files_stay_in_their_folder_and_tell_rooms_apart():
    papers = list(drawn_papers(hostile(), stamp(hostile()), SIZES["ANSI B"]))
    names = [paper.name for paper in papers]
    assert all(map(is_paper_name, names))
    assert len({name.casefold() for name in names}) == len(names)
    assert all(len(name.encode()) < 200 for name in names)
    rooms = [name for name in names if name.startswith("dxf/rooms/")]
    assert len(rooms) == len(hostile().rooms)
    assert any(LONG[:20].lower() in name for name in rooms)


def test_hostile_papers_are_written_within_their_folder(tmp_path):
    out = tmp_path / "papers"
    done = deliver(hostile(), out, DAY)
    written = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    assert {paper.name for paper in done.papers} <= written
    assert [path.name for path in tmp_path.iterdir()] == ["papers"]


def test_equal_plans_give_equal_files():
    once, again = (list(cad_papers(demo("easy"), stamp(demo("easy"))))[:3] for _ in range(2))
    assert [paper.data for paper in once] == [paper.data for paper in again]


def test_a_section_is_as_large_as_it_is():
    planned = demo()
    paper = next(p for p in cad_papers(planned, stamp(planned)) if "principal" in p.name)
    wood = [e for e in read(paper).modelspace() if e.dxf.layer == "CUT"]
    box = extents(wood)
    assert box.size.y > planned.packages[0].element("wainscot").size


def test_all_drawn_papers_of_the_demo_house_take_well_under_ten_seconds():
    planned = demo()
    began = process_time()
    papers = list(drawn_papers(planned, stamp(planned), SIZES["ANSI B"]))
    assert process_time() - began < 10
    assert [paper.name for paper in papers[:2]] == ["drawings.pdf", "full-size.pdf"]
