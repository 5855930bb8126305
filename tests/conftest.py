"""What tests of several folders share: the packets of the residential and of a small design, built once."""

from __future__ import annotations

import os
import re
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
# Slowest first, so that no worker is left with a long file at the end.
SLOWEST = (
    "test_driven.py",
    "test_each_rule.py",
    "test_lint_browser.py",
    "test_products.py",
    "test_verify.py",
    "test_format.py",
    "test_wheel.py",
    "test_several_packs.py",
    "test_commands.py",
    "test_pack_cases.py",
    "test_never_a_pass.py",
    "test_lint.py",
)
RESIDENTIAL = EXAMPLES / "residential" / "design.plan"


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add `--update-golden`, after which changed wordings are read like any other change, and `--long`."""
    parser.addoption("--update-golden", action="store_true", help="write the golden files anew")
    parser.addoption("--long", action="store_true", help="also run what takes minutes")


def pytest_configure(config: pytest.Config) -> None:
    """Name our marks; say how many examples a property test takes that names no number itself."""
    config.addinivalue_line("markers", "long: takes minutes; a short sample of it always runs; see --long")
    # How quickly inputs are drawn tells of the machine's other work, not of ours.
    quiet = [HealthCheck.too_slow]
    settings.register_profile("short", max_examples=25, suppress_health_check=quiet)
    settings.register_profile("long", max_examples=300, suppress_health_check=quiet)
    settings.load_profile("long" if config.getoption("--long") else "short")
    if hasattr(config.option, "loadscopereorder"):
        config.option.loadscopereorder = False  # several workers take files in our order, the slowest first


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Put the slowest files first; leave the long runs to `--long`, each with its short sample beside it."""
    items.sort(key=lambda item: SLOWEST.index(item.path.name) if item.path.name in SLOWEST else len(SLOWEST))
    if config.getoption("--long"):
        return
    long = [item for item in items if item.get_closest_marker("long")]
    config.hook.pytest_deselected(items=long)
    items[:] = [item for item in items if not item.get_closest_marker("long")]


@contextmanager
def undrawn() -> Iterator[None]:
    """Leave the PDF files empty, where a test looks at everything but them: most of the time of a build."""
    from plangen.build import products
    from plangen.build.plan_set import PDF_NAMES

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            products, "pdf_products", lambda *_: [products.Product(name, b"") for name in PDF_NAMES]
        )
        yield


@pytest.fixture
def hold_to_golden(request: pytest.FixtureRequest) -> Callable[[Path, str], None]:
    """Return a check that a text is what its golden file holds."""

    def hold(golden: Path, text: str) -> None:
        if request.config.getoption("--update-golden"):
            golden.write_text(text, encoding="utf-8", newline="\n")
        assert golden.read_text(encoding="utf-8") == text

    return hold


def _once(factory: pytest.TempPathFactory, name: str, build: Callable[[Path], int]) -> Path:
    """Return a folder that `build` filled, by whichever of several workers came first: none may change it."""
    base = factory.getbasetemp()
    shared = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    out, told = shared / name / "packet", shared / name / "status"
    try:
        out.parent.mkdir()
    except FileExistsError:  # another worker was here first
        late = time.monotonic() + 300
        while not told.exists() and time.monotonic() < late:
            time.sleep(0.05)
    else:
        status = build(out)
        (out.parent / "written").write_text(str(status), encoding="utf-8")
        (out.parent / "written").rename(told)
    assert told.read_text(encoding="utf-8") in ("0", "1")
    return out


@pytest.fixture(scope="session")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the residential design's packet."""
    from plangen.cli.main import main

    return _once(tmp_path_factory, "built", lambda out: main(["build", str(RESIDENTIAL), "--out", str(out)]))


@pytest.fixture(scope="session")
def small_packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the packet of the tutorial's small design. Its PDF files are empty."""
    from plangen.cli.main import main
    from plangen.shipped.folders import shipped_text

    def build(out: Path) -> int:
        tutorial = shipped_text("site", "handbook", "tutorial.md")
        *_, whole = re.findall(r"^```plan complete\n(.*?)^```$", tutorial, re.MULTILINE | re.DOTALL)
        design = out.parent / "design.plan"
        design.write_text(whole, encoding="utf-8")
        with undrawn():
            return main(["build", str(design), "--out", str(out)])

    return _once(tmp_path_factory, "small", build)
