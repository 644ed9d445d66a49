"""Every mistaken or hostile design file gets exactly the message it should, and nothing but a DesignError."""

from __future__ import annotations

from pathlib import Path

import pytest
from cases import CASES, Case
from effort import calls

from neckmodel.design import read, read_text
from neckmodel.errors import DesignError

HERE = Path(__file__).parent
BASE = (HERE / "siskin.toml").read_text(encoding="utf-8")


def _expected() -> dict[str, str]:
    blocks = (HERE / "messages.txt").read_text(encoding="utf-8").split("## ")[1:]
    return {name: said.rstrip("\n") for name, _, said in (block.partition("\n") for block in blocks)}


EXPECTED = _expected()

# what is refused before it is looked at as TOML, or by the parser itself
FILES = {
    "file with a byte order mark": b"\xef\xbb\xbf[design]\n",
    "file in UTF-16": "[design]".encode("utf-16-le"),
    "file in UTF-16 with its mark": b"\xff\xfe" + "[design]".encode("utf-16-le"),
    "file in Latin-1": b'[design]\nremark = "b\xfcro"\n',
    "file with a bell": b"# \x07\n",
    "file too large": b"#\n" * (1 << 19) + b"#",
    "file of one line": b"a = " + b"[" * 5000,
    "key without end": b"a" + b".a" * 1500 + b" = 1",
    "lists without end": b"a = " + b"[" * 1500 + b"]" * 1500,
    "tables in tables": b"a.b.c.d.e.f.g.h.i.j.k.l.m.n = 1",
    "number without end": b"a = " + b"9" * 3990,
    "number of too many digits for a length": BASE.replace("length = 420.0", "length = " + "9" * 3990).encode(),
    "keys without number": BASE.encode() + b"[x]\n" + b"".join(b"k%d = 1\n" % n for n in range(50_000)),
    "sections without number": BASE.encode() + b"".join(b"[s%d]\n" % n for n in range(5_000)),
    "list without number": BASE.replace("frets = 22", "frets = [" + "1,\n" * 200_000 + "]").encode(),
    "unprintable key": BASE.replace("frets = 22", '"\\u001b[31mfrets" = 22').encode(),
    "old line ends": BASE.replace("\n", "\r").encode(),
    "line ends of another system": BASE.replace("frets = 22", "frets = 99").replace("\n", "\r\n").encode(),
    "not TOML at all": b"<html><body>404</body></html>\n",
}
MOST_CALLS = 20_000_000  # the largest takes 8 million; an attack would take many times this


def _edited(case: Case) -> str:
    text = BASE
    for was, becomes in case.edits:
        assert text.count(was) == 1, f"{was!r} must stand once in siskin.toml"
        text = text.replace(was, becomes)
    return text


def test_the_design_they_all_start_from_is_sound() -> None:
    assert read_text(BASE, "siskin.toml").name == "siskin"


def test_every_case_has_its_message_and_every_message_its_case() -> None:
    names = [case.name for case in CASES] + list(FILES)
    assert len(names) == len(set(names)) >= 40
    assert set(names) == set(EXPECTED)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_exact_message(case: Case) -> None:
    with pytest.raises(DesignError) as caught:
        read_text(_edited(case), "siskin.toml", case.sets)
    assert str(caught.value) == EXPECTED[case.name]


@pytest.mark.parametrize("name", FILES)
def test_exact_message_for_a_file(name: str, tmp_path: Path) -> None:
    file = tmp_path / "siskin.toml"
    file.write_bytes(FILES[name])
    with pytest.raises(DesignError) as caught:
        read(file)
    shown = str(caught.value).replace(str(file), "siskin.toml").splitlines()
    expected = EXPECTED[name].splitlines()
    assert shown[: len(expected) - 1] == expected[:-1]
    assert shown[-1] == expected[-1]


@pytest.mark.parametrize("name", FILES)
def test_a_file_makes_little_work(name: str, tmp_path: Path) -> None:
    file = tmp_path / "siskin.toml"
    file.write_bytes(FILES[name])

    def refused() -> None:
        with pytest.raises(DesignError):
            read(file)

    assert calls(refused) < MOST_CALLS


def test_no_file_no_text() -> None:
    for path, says in (
        (HERE, "is a folder, not a design file; name the .toml file in it"),
        (HERE / "none.toml", "there is no such file; `neckmodel presets` lists the designs that can be named"),
        (HERE / "siskin.toml" / "x", "cannot be read (Not a directory)"),
    ):
        with pytest.raises(DesignError) as caught:
            read(path)
        assert str(caught.value) == f"{path}: the file: {says}"


def test_a_path_with_a_zero_byte_is_refused_in_words() -> None:
    with pytest.raises(DesignError) as caught:
        read("a\0b.toml")
    assert str(caught.value) == '"a\\u0000b.toml": the file: cannot be read (embedded null byte)'
