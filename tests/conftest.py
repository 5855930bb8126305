"""What tests of several folders share: one packet of the residential design, built once."""

from __future__ import annotations

from pathlib import Path

import pytest

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
RESIDENTIAL = EXAMPLES / "residential" / "design.plan"


@pytest.fixture(scope="session")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the residential design's packet."""
    from plangen.cli.main import main

    out = tmp_path_factory.mktemp("built") / "packet"
    assert main(["build", str(RESIDENTIAL), "--out", str(out)]) in (0, 1)
    return out
