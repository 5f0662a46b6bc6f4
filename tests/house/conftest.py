"""A small valid house, written down file by file, and what tells one state of a folder from another."""

import hashlib
from pathlib import Path

import pytest

HOUSE = """\
# An invented house of five rooms.
format = 1
name = "Larkspur Cottage"
unit = "in"
entry = "Lobby"
style = "georgian"
order = "doric"
grade = "cottage"

[levels."Ground"]
ceiling = "9'-0\\""
"""

ROOMS = '''\
room,level,use,length,width,ceiling,outline,notes
Lobby,Ground,entry hall,10 ft,8 ft,,0 0; 0 96; 120 96; 120 0,
"Parlor, ""Front""",Ground,parlor,15 ft,12 ft,,120 0; 120 144; 300 144; 300 0,
Kitchen,Ground,kitchen,10 ft,10 ft,,0 96; 0 216; 120 216; 120 96,faces the yard
Landing,Upper,upper hall,8 ft,6 ft,8',,
Bedroom,Upper,bedroom,4 m,3500 mm,8',,
'''

OPENINGS = '''\
opening,kind,room,other,wall,offset,width,height,sill
Front door,door,Lobby,outside,S,,3'-0",6'-8",
D1,cased opening,Lobby,"Parlor, ""Front""",E,18,"4'-0""",7',
D2,door,Lobby,Kitchen,N,,30,80,
Stair,stair,Lobby,Landing,,,36,80,
D3,door,Landing,Bedroom,N,,30,80,
W1,window,"Parlor, ""Front""",outside,N,24,36,80,24
W2,window,"Parlor, ""Front""",outside,N,120,36,80,24
Hearth,fireplace,"Parlor, ""Front""",,E,,36,30,
'''

PLAIN = """\
# kept plain
title = "Plain"
author = "Ada Finch" # invented

[importance]
use = 0.5 # half of it
arrival = 0.25
passage = 0.15
presence = 0.10

[limits]
door = 2
"cased opening" = 1

[rooms."Bedroom"]
lowest = 1
highest = 2

[[sets]]
rooms = ["Lobby", "Kitchen"]
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A house folder without a fault."""
    made = tmp_path / "house"
    (made / "alternatives").mkdir(parents=True)
    (made / "house.toml").write_text(HOUSE, "utf-8")
    (made / "rooms.csv").write_text(ROOMS, "utf-8")
    (made / "openings.csv").write_text(OPENINGS, "utf-8")
    (made / "alternatives" / "plain.toml").write_text(PLAIN, "utf-8")
    return made


def state(folder: Path) -> dict[str, str]:
    """Everything in a folder by its path: what a link points to, what a file holds, that a directory is one."""
    found = {}
    for path in sorted(folder.rglob("*")):
        name = str(path.relative_to(folder))
        if path.is_symlink():
            found[name] = f"link {path.readlink()}"
        elif path.is_file():
            found[name] = hashlib.sha256(path.read_bytes()).hexdigest()
        else:
            found[name] = "directory" if path.is_dir() else "other"
    return found
