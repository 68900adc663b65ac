"""What a supplier asks: license, locked libraries, where to report a fault."""

import re
import tomllib
from importlib.metadata import metadata
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def locked():
    """The lock's libraries: name to versions and number of hashes (a library can stand there for
    several Pythons)."""
    text = (ROOT / ".ci" / "lock.txt").read_text(encoding="utf-8")
    blocks = re.split(r"^(?=[a-z0-9])", text, flags=re.MULTILINE)
    found: dict[str, list[tuple[str, int]]] = {}
    for block in blocks:
        if named := re.match(r"([\w.-]+)==([\w.+-]+)", block):
            name = canonicalize_name(named[1])
            found.setdefault(name, []).append((named[2], block.count("--hash=sha256:")))
    return found


def test_the_lock_has_every_library_that_the_project_names_within_its_bounds_and_with_hashes():
    lock = locked()
    extras = PROJECT["optional-dependencies"].values()
    for text in [*PROJECT["dependencies"], *(text for extra in extras for text in extra)]:
        asked = Requirement(text)
        versions = lock[canonicalize_name(asked.name)]
        assert all(version in asked.specifier for version, _ in versions), text
    assert all(hashes for versions in lock.values() for _, hashes in versions)


def test_an_upper_bound_says_why_in_the_developers_guide():
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    bounded = [r.name for r in map(Requirement, PROJECT["dependencies"]) if "<" in str(r.specifier)]
    assert all(re.search(rf"{name}.*limits", guide) for name in bounded), bounded


def test_the_license_is_named_in_the_metadata_and_ships():
    assert PROJECT["license"] == metadata("dxf2veneer")["License-Expression"] == "MIT"
    (name,) = PROJECT["license-files"]
    assert (ROOT / name).read_text(encoding="utf-8").startswith("MIT License")


def test_where_to_report_a_fault_is_said():
    assert "How to report" in (ROOT / "docs" / "SECURITY.md").read_text(encoding="utf-8")
