"""What tests of several folders share: one packet of the residential design, built once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
RESIDENTIAL = EXAMPLES / "residential" / "design.plan"


def pytest_addoption(parser: pytest.Parser) -> None:
    """`--update-golden` writes the agreed wordings anew; the change is then read like any other."""
    parser.addoption("--update-golden", action="store_true", help="write the golden files anew")


@pytest.fixture
def hold_to_golden(request: pytest.FixtureRequest) -> Callable[[Path, str], None]:
    """Return a check that a text is what its golden file holds."""

    def hold(golden: Path, text: str) -> None:
        if request.config.getoption("--update-golden"):
            golden.write_text(text, encoding="utf-8", newline="\n")
        assert golden.read_text(encoding="utf-8") == text

    return hold


@pytest.fixture(scope="session")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the residential design's packet."""
    from plangen.cli.main import main

    out = tmp_path_factory.mktemp("built") / "packet"
    assert main(["build", str(RESIDENTIAL), "--out", str(out)]) in (0, 1)
    return out
