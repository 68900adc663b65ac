"""What every test may use: places, the refresh flag of golden files, small drawings."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

ROOT = Path(__file__).parent.parent

settings.register_profile("thorough", max_examples=200, deadline=None)
settings.register_profile("default", deadline=None)
settings.load_profile("default")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--refresh-golden", action="store_true", help="write the golden files anew; look at the diff before committing")


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
