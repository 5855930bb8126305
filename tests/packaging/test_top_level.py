"""The top level of the repository holds what the contract lists and nothing else."""

import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ALLOWED = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "plangen",
    "grammar",
    "rules",
    "tests",
    "examples",
    "site",
}


def tracked() -> list[str]:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    return listed.stdout.splitlines()


def test_top_level_is_exactly_the_contract() -> None:
    top = {name.split("/")[0] for name in tracked()}
    assert {name for name in top if not name.startswith(".")} == ALLOWED


def test_the_readme_opens_with_the_job_and_shows_two_one_line_commands() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    first_paragraph = text.split("\n\n")[1]
    assert len(first_paragraph.split()) > 60 and "backflow" in first_paragraph
    commands = [line.strip() for line in text.splitlines() if line.startswith("    sh .ci/setup")]
    assert len(commands) == 2
    assert "build examples/residential/design.plan" in commands[0]
    assert "pytest" in commands[1]


def test_ci_runs_the_readmes_own_test_command() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "README.md" in script and "eval" in script
