"""What every test may use: places, the refresh flag of golden files, small drawings."""

from __future__ import annotations

import inspect
from collections.abc import Generator
from pathlib import Path

import pytest
from hypothesis import settings
from published import check

ROOT = Path(__file__).parent.parent

settings.register_profile("thorough", max_examples=200, deadline=None)
settings.register_profile("default", deadline=None)
settings.load_profile("default")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--refresh-golden",
        action="store_true",
        help="write the golden files anew; look at the diff before committing",
    )


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "published: what a source says (tests/published.py)")


def pytest_pyfunc_call(pyfuncitem: pytest.Function) -> bool | None:
    """A test that is marked with published numbers returns what was found."""
    mark = pyfuncitem.get_closest_marker("published")
    if mark is None:
        return None
    names = inspect.signature(pyfuncitem.obj).parameters
    check(mark.args[0], pyfuncitem.obj(**{n: pyfuncitem.funcargs[n] for n in names}))
    return True


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """What was logged about a damaged drawing may hold what no UTF-8 has;
    it must reach the process that tells it.
    """
    report = yield
    report.sections = [
        (title, text.encode("utf-8", "backslashreplace").decode())
        for title, text in report.sections
    ]
    return report


@pytest.fixture
def refresh_golden(request: pytest.FixtureRequest) -> bool:
    return bool(request.config.getoption("--refresh-golden"))


@pytest.fixture(scope="session")
def samples() -> Path:
    return ROOT / "samples"


@pytest.fixture(scope="session")
def real_drawings() -> Path:
    """Drawings by other people that stand beside the checkout on some machines."""
    folder = ROOT.parent / "shared" / "drawings"
    if not folder.is_dir():
        pytest.skip("the drawings of other people are not on this machine")
    return folder
