"""No file names a vendor, its fonts or its products. The words are kept as hashes, or this file would name them."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from pathlib import Path

import neckmodel

ROOT = Path(neckmodel.__file__).resolve().parents[1]
KEPT = ("three.min.js", "three-LICENSE.txt")  # vendored, never edited
# the first 12 signs of the SHA-256 of a word in small letters: fonts, the firms behind them, makers of software
NAMES = """
    0600c79833cc 063de0773639 0e7a087cefc7 0fad2e6b6612 127ec4e510e5 1937bccde26e 1ec201e53077 26ae61de6944
    2769cdab1cd6 287558487e1a 2c8c4f00dee0 2dae946ece48 30e363d3e8c5 320d597682ed 3966fd36d9d8 3acee3f87603
    3b3e64e780a9 3f4a09b92ccf 46b64f53eaf0 4b165def2ca2 4bff358ac1b6 4ec90cb5a1d1 50f08e64c5a6 5971b0dc0625
    5ac7015ce8cc 608821bcab3c 651b8ff3460b 65db8c764322 6638a15891f8 69b21112c155 6ca879b0e26d 6d7ee145069f
    6fc0ee450e51 71ffac2d9e6d 7208f7bdc4be 7cc31fa7f36e 7d212a337f4f 7e5ff07ea6fc 7ef6b6b072de 80537d65d479
    85434d1992c1 8b567a9cad64 8c0832f4c370 8d1a62f07ef3 908aa043e7c0 93ee3c3cefa6 9443e70d2be6 967546085aa0
    9b68aef6bbcc 9d0250303c7d 9fbf261b62c1 bd4bdbe84608 c3a8edb12963 d2eed2cc6b7d d84a9a6b2b0f dfbfbbee5ba0
    e03f03ca8be9 e14bf0db19b2 e402b2af1cff e61be3b506a9 ede213c6d103 ee9021c84f33 efc5f6a9e8e0 f3ec9657c461
    f91d44d7bb38 f9cde2d96a1d faba1e00af8e
"""


def hashed(word: str) -> str:
    return hashlib.sha256(word.encode()).hexdigest()[:12]


def files() -> Iterator[Path]:
    for top in ("neckmodel", "presets", "tests", ".ci"):
        yield from (path for path in (ROOT / top).rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    yield from (path for path in ROOT.glob("*") if path.suffix in (".md", ".toml") or path.name == "LICENSE")


def words(data: bytes) -> set[str]:
    return {word.lower() for word in re.findall("[A-Za-z]{4,}", data.decode("utf-8", errors="replace"))}


def test_the_hashes_are_of_words_in_small_letters() -> None:
    assert words(b"x = 'Merl-Neue 55', MERLIN_1") == {"merl", "neue", "merlin"}
    assert hashed("abc") == "ba7816bf8f01"  # FIPS 180-2, appendix B.1


def test_no_file_names_a_vendor() -> None:
    seen = 0
    for path in files():
        if path.suffix == ".png" or path.name in KEPT:
            continue
        found = sorted(word for word in words(path.read_bytes()) if hashed(word) in NAMES.split())
        assert not found, f"{path.relative_to(ROOT)} names {found}"
        seen += 1
    assert seen > 300
