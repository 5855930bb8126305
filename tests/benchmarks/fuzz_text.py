"""Does any text make the reader raise, hang or lie? Prints how many texts were read in a given time.

The texts are made from the examples, the tutorial's design and the pages of the codes, by changes of tokens
(left out, twice, changed for one from anywhere, swapped), of numbers, of lines, and of bytes; and from
nothing but the language tables, by the strategies that the tests use, some of them changed in turn. Each text
is read, its messages are printed, and it is laid out. One in so many that read without a message goes through
every stage up to the findings, one in so many is read as a pack of rules.

A text fails where something is raised, where it takes longer than `LIMIT_S` of processor time, where a
message points outside the text, where a design comes beside an error or neither comes, and where the text as
laid out is not its own layout. Failures are kept in a folder, one file each; a run that hangs is ended by a
watch, and its text is the last one there.

Run: python tests/benchmarks/fuzz_text.py [SECONDS] [SEED] [FOLDER]
"""

from __future__ import annotations

import faulthandler
import os
import random
import re
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

LIMIT_S = 5.0
HANGS_S = 120.0
THROUGH = 5  # one clean text in so many goes through all stages
SMALL = 4_000  # three texts in four are smaller, since many can be read of them
PACKS = 10  # one text in so many is made from a pack of rules
FRESH = 20  # one text in so many is made from the language tables alone
_TOKEN = re.compile(r'"[^"\n]*"|#[^\n]*|->|\d[\d./-]*|[A-Za-z][\w.-]*|\s+|.', re.DOTALL)
_ODD = (
    "", "0", "-0", "-1", "1e9", "9" * 40, "1/0", "0/0", "1-1/0 in", "0 in", "-3 ft", "0 psi", "360 deg",
    "99999 ft", '""', '"', "'", "(", ")", "{", "}", ",", ":", "->", "#", ".", "\t", "\r", "\n", "\x0b",
    "\x0c", "\x85", "\u2028", "\u00a0", "\ufeff", "é", "𝒳", "none", "of", "and", "from", "to", "at", "on",
    "every", "between", "opposite", "existing", "removed", "relocated", "2026-02-30", "0000-00-00",
    "House.southwest", "include", "replaces", "measured", "assumed",
)  # fmt: skip


def corpus() -> list[str]:
    """Return the texts of designs to begin with."""
    from tests.benchmarks.single_edits import texts
    from tests.diagnostics.code_page_texts import examples, page_files, whole_text

    found = list(texts().values())
    for path in page_files().values():
        found += [
            whole_text(*shown) for shown in examples(path).values() if shown[0] in ("plan", "plan-file")
        ]
    starter = ROOT / "site" / "starter" / "design.plan"
    return [*found, starter.read_text(encoding="utf-8")]


def packs() -> list[str]:
    """Return the texts of the rule packs."""
    return [p.read_text(encoding="utf-8") for p in sorted(ROOT.glob("rules/*/pack.rules"))]


def changed(text: str, others: list[str], rng: random.Random) -> bytes:
    """Return the bytes of a text after one to eight changes of tokens, lines or bytes."""
    for _ in range(rng.choice((1, 1, 1, 2, 3, 8))):
        text = rng.choice((_tokens, _tokens, _lines, _numbers))(text, others, rng)
    raw = bytearray(text.encode("utf-8", "surrogatepass"))
    for _ in range(rng.choice((0,) * 12 + (1, 1, 2, 20))):
        at = rng.randrange(len(raw) + 1)
        how = rng.randrange(4)
        if how == 0:
            raw[at:at] = bytes([rng.randrange(256)])
        elif how == 1:
            del raw[at : at + rng.choice((1, 1, 7, 300))]
        elif raw and how == 2:
            raw[at % len(raw)] ^= 1 << rng.randrange(8)
        else:
            raw[at:at] = raw[at : at + rng.choice((1, 30))] * rng.choice((1, 2, 50))
    return bytes(raw)


def _tokens(text: str, others: list[str], rng: random.Random) -> str:
    tokens = _TOKEN.findall(text) or [""]
    at, how = rng.randrange(len(tokens)), rng.randrange(6)
    if how == 0:
        del tokens[at]
    elif how == 1:
        tokens.insert(at, tokens[at])
    elif how == 2:
        tokens[at] = rng.choice(_ODD)
    elif how == 3:
        tokens[at] = rng.choice(_TOKEN.findall(rng.choice(others)) or [""])
    elif how == 4:
        other = rng.randrange(len(tokens))
        tokens[at], tokens[other] = tokens[other], tokens[at]
    else:
        tokens.insert(at, rng.choice(_ODD))
    return "".join(tokens)


def _numbers(text: str, others: list[str], rng: random.Random) -> str:
    """Return a text with some numbers changed, which most often reads clean and means something odd."""
    tokens = _TOKEN.findall(text)
    places = [i for i, token in enumerate(tokens) if token[0].isdigit()]
    for at in rng.sample(places, min(len(places), rng.choice((1, 1, 3)))):
        tokens[at] = rng.choice(("0", "1", "2", "7.5", "40", "360", "1000", "0.001", "1-1/4"))
    return "".join(tokens)


def _lines(text: str, others: list[str], rng: random.Random) -> str:
    lines = text.split("\n")
    at, how = rng.randrange(len(lines)), rng.randrange(5)
    if how == 0:
        del lines[at : at + rng.choice((1, 1, 5, 40))]
    elif how == 1:
        lines.insert(at, rng.choice(lines))
    elif how == 2:
        lines.insert(at, rng.choice(rng.choice(others).split("\n")))
    elif how == 3:
        other = rng.randrange(len(lines))
        lines[at], lines[other] = lines[other], lines[at]
    else:
        lines[at] = lines[at][: rng.randrange(len(lines[at]) + 1)]
    return "\n".join(lines)


def fresh(seed: int) -> Iterator[str]:
    """Give texts made from the language tables alone, without end."""
    while True:
        yield from _batch(seed)
        seed += 1


def _batch(seed: int) -> list[str]:
    import hypothesis

    from plangen.model.formatted import key
    from plangen.syntax.format import printed
    from tests.syntax.strategies import trees

    batch: list[str] = []

    @hypothesis.seed(seed)
    @hypothesis.settings(
        max_examples=60, database=None, deadline=None, suppress_health_check=list(hypothesis.HealthCheck)
    )
    @hypothesis.given(trees())
    def keep(tree) -> None:  # type: ignore[no-untyped-def]
        batch.append(printed(tree, key))

    keep()
    return batch


def read_text(raw: bytes, rng: random.Random, count: Counter[str]) -> bool:
    """Read, print and lay out one text; raise where something is wrong with what came of it.

    Return whether the reader alone was at work.
    """
    from plangen.build.inputs import Input
    from plangen.diagnostics.diagnostic import Diagnostic
    from plangen.diagnostics.render_text import render_all
    from plangen.model.formatted import format_text
    from plangen.model.read import read_design
    from plangen.parsing.decode import decode
    from plangen.text.source import SourceFile, SourceSet

    text = decode(raw, "d.plan")
    if isinstance(text, Diagnostic):
        count["not text"] += 1
        return True
    source = SourceFile.of("d.plan", text)
    outcome = read_design(source)
    assert (outcome.value is None) == outcome.failed, "a design beside an error, or neither"
    render_all(outcome.problems, SourceSet((source,)))
    for problem in outcome.problems:
        assert 0 <= problem.span.start <= problem.span.end <= len(text) + 1, problem
    count["read clean" if outcome.value is not None else "with messages"] += 1
    laid = format_text(source)
    if laid.value is not None:
        count["laid out"] += 1
        assert format_text(SourceFile.of("d.plan", laid.value)).value == laid.value, "laid out twice"
    if outcome.value is not None and rng.randrange(THROUGH) == 0:
        from plangen.build.pack_texts import read_packs
        from plangen.build.pipeline import run_stages

        known = read_packs().value
        assert known is not None
        run_stages(Input("d.plan", raw, source), known, lambda _: None)
        count["through all stages"] += 1
        return False
    return True


def read_pack(raw: bytes, rng: random.Random, count: Counter[str]) -> bool:
    """Read one text as a pack of rules and print its messages."""
    from plangen.build.pack_texts import read_packs
    from plangen.checking.load import load_packs
    from plangen.diagnostics.diagnostic import Diagnostic
    from plangen.diagnostics.render_text import render_all
    from plangen.facts.vocabulary import VERSION, VOCABULARY
    from plangen.parsing.decode import decode
    from plangen.text.source import SourceFile, SourceSet

    text = decode(raw, "rules/odd/pack.rules")
    if isinstance(text, Diagnostic):
        count["not text"] += 1
        return True
    known = read_packs().value
    assert known is not None
    found = {i.source.name.split("/")[-2]: i.source for i in known}
    found["odd"] = SourceFile.of("rules/odd/pack.rules", text)
    loaded = load_packs(("odd",), found, VOCABULARY, VERSION)
    assert (loaded.value is None) == loaded.failed
    render_all(loaded.problems, SourceSet(tuple(found.values())))
    count["packs"] += 1
    return True


def one(read: Callable[..., bool], raw: bytes, rng: random.Random, count: Counter[str], out: Path) -> None:
    """Read one text under the watch; keep it in the folder if it fails."""
    last = out / "last.plan"
    last.write_bytes(raw)
    faulthandler.dump_traceback_later(HANGS_S, exit=True)
    begin = time.process_time()
    fault, timed = "", True
    try:
        timed = read(raw, rng, count)
    except Exception:
        fault = traceback.format_exc()
    spent = time.process_time() - begin
    faulthandler.cancel_dump_traceback_later()
    if timed:
        count["slowest ms"] = max(count["slowest ms"], int(spent * 1000))
        fault = fault or (f"{spent:.1f} s" if spent > LIMIT_S else "")
    if fault:
        count["failed"] += 1
        (out / f"failed-{count['failed']}.plan").write_bytes(raw)
        (out / f"failed-{count['failed']}.txt").write_text(fault, encoding="utf-8")
        print(fault, flush=True)


def main(seconds: float, seed: int, out: Path) -> int:
    """Read texts for so many seconds and print what came of them."""
    if hasattr(os, "nice"):
        os.nice(10)
    out.mkdir(parents=True, exist_ok=True)
    rng, count = random.Random(seed), Counter[str]()
    texts, rules, new = corpus(), packs(), fresh(seed)
    small = [text for text in texts if len(text) < SMALL]
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        count["texts"] += 1
        if rng.randrange(PACKS) == 0:
            one(read_pack, changed(rng.choice(rules), rules, rng), rng, count, out)
        elif rng.randrange(FRESH) == 0:
            text = next(new)
            raw = changed(text, texts, rng) if rng.random() < 0.5 else text.encode()
            one(read_text, raw, rng, count, out)
        else:
            text = rng.choice(small if rng.randrange(4) else texts)
            one(read_text, changed(text, texts, rng), rng, count, out)
    print(f"{count.pop('texts')} texts in {seconds:.0f} s, seed {seed}; failed: {count.pop('failed', 0)}")
    print("  " + ", ".join(f"{name}: {n}" for name, n in sorted(count.items())))
    return 0


if __name__ == "__main__":
    told = sys.argv[1:]
    main(
        float(told[0]) if told else 60.0,
        int(told[1]) if len(told) > 1 else 1,
        Path(told[2]) if len(told) > 2 else Path(tempfile.mkdtemp()),
    )
