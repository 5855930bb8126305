"""What the examples mean: values checked by hand against the text, and what is silent stays not known."""

from __future__ import annotations

import datetime
import math
from pathlib import Path

import pytest

from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.quantity.quantity import Basis
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile

FOOT = 0.3048  # by definition
INCH = 0.0254


def read(text: str) -> Design:
    """Return the design of a text that has no faults."""
    outcome = read_design(SourceFile.of("d.plan", text))
    assert outcome.problems == ()
    assert outcome.value is not None
    return outcome.value


@pytest.fixture(scope="module")
def house() -> Design:
    """Return the residential example."""
    return read(shipped_text("examples", "residential", "design.plan"))


@pytest.fixture(scope="module")
def metric() -> Design:
    """Return a design that says everything the residential one does not."""
    return read(Path(__file__).with_name("metric.plan").read_text(encoding="utf-8"))


def test_project(house: Design) -> None:
    project = house.project
    assert project.address == "14 Heron Court, Quillmoor"
    assert project.jurisdictions == ("quillmoor",)
    assert project.issued == datetime.date(2026, 5, 4)
    assert project.preparer is not None
    assert project.preparer.licence_expires == datetime.date(2027, 3, 31)
    assert [r.label for r in project.revisions] == ["A"]


def test_coordinates_are_feet_and_names_sort_as_people_count(house: Design) -> None:
    source = house.source
    assert source is not None
    assert (source.point.x, source.point.y) == pytest.approx((8 * FOOT, -7 * FOOT))
    names = [p.name for p in house.pipes]
    assert names.index("P2") < names.index("P10")


def test_places_by_offset_and_along_a_pipe(house: Design) -> None:
    assembly, tap = house.device("BF1"), house.device("T1")
    assert assembly is not None and tap is not None
    # House.southwest is (14, 46): 10 ft east and 1 ft south of it is (24, 45).
    assert (assembly.point.x, assembly.point.y) == pytest.approx((24 * FOOT, 45 * FOOT))
    # The service runs north from the meter at (8, -1): 3 ft along it is (8, 2).
    assert (tap.point.x, tap.point.y) == pytest.approx((8 * FOOT, 2 * FOOT))


def test_provenance_follows_the_number(house: Design) -> None:
    source = house.source
    assert source is not None and source.static is not None and source.lowest is not None
    assert source.static.provenance.basis is Basis.MEASURED
    assert source.static.provenance.date == datetime.date(2026, 4, 20)
    assert source.lowest.provenance.document == "Quillmoor Water pressure record 2025"
    part = house.heads[0].part
    assert part.flow is not None and part.flow.provenance.basis is Basis.DATA_SHEET
    assert part.flow.provenance.document == "SP-15, table 2"


def test_heads_stand_on_their_laterals(house: Design) -> None:
    head = next(h for h in house.heads if h.name == "H12")
    # L11: V1 (20, 36.5) -> N11 (17, 34) -> N12 (17, 19); H12 is at its end.
    assert head.along_m == pytest.approx((math.hypot(3, 2.5) + 15) * FOOT)
    assert head.reach_m == 0.0
    assert head.arc_known
    quarter = next(h for h in house.heads if h.name == "H16")
    assert (quarter.arc_start_deg, quarter.arc_end_deg) == (0.0, 90.0)


def test_what_is_said_of_the_assembly(house: Design) -> None:
    assembly = house.device("BF1")
    assert assembly is not None
    assert assembly.assembly_kind == "pvb"
    assert assembly.wall == "House"
    assert assembly.height is not None and assembly.height.si == pytest.approx(28 * INCH)
    assert assembly.listing == "ASSE 1020"


def test_silence_is_not_known() -> None:
    design = read(shipped_text("examples", "unmeasured", "design.plan"))
    assert design.source is not None
    assert design.source.static is None
    assert design.source.lowest is None
    assert design.source.residual is None


def test_answers_tell_none_from_silence(house: Design, metric: Design) -> None:
    said = {a.question: a for a in house.answers}
    assert said["pump"].none
    assert not said["heater expansion"].none
    assert "septic" not in {a.question for a in metric.answers}


def test_metric_design_says_the_rest(metric: Design) -> None:
    assert metric.project.jurisdictions == ("quillmoor", "model-us")
    assert metric.project.revisions[0].answers == "3"
    source = metric.source
    assert source is not None and source.residual is not None and source.allowance is not None
    assert source.residual[0].si == pytest.approx(3.6e5)
    assert source.residual[1].si == pytest.approx(0.001)
    assert source.residual[0].provenance.basis is Basis.MEASURED
    assert [d.kind for d in metric.devices_of("pump", "injector", "master-valve", "flow-sensor", "strainer")]
    assembly = metric.device("BF1")
    assert assembly is not None and assembly.height is not None
    assert assembly.height.si == pytest.approx(0.4)
    pump = metric.device("PU1")
    assert pump is not None and pump.part is not None
    assert len(pump.part.gain_curve) == 3


def test_control_sensors_and_zones_together(metric: Design) -> None:
    control = metric.control
    assert control is not None
    assert control.none_sensors == ("rain",)
    assert [(s.kind, s.name) for s in control.sensors] == [("flow", "FSW"), ("soil", "SO1")]
    zone = metric.zone("Z1")
    assert zone is not None and zone.runs_with == ("Z2",)


def test_review_waives_and_confirms(metric: Design) -> None:
    (waiver,) = metric.waivers
    assert (waiver.rule, waiver.subject, waiver.until) == (
        "assembly-clearance",
        "BF1",
        datetime.date(2027, 1, 1),
    )
    (confirmation,) = metric.confirmations
    assert (confirmation.rule, confirmation.on) == ("hand-dig", datetime.date(2026, 5, 1))


def test_typical_and_assumed_values_say_so(metric: Design) -> None:
    storm = next(u for u in metric.site.utilities if u.name == "ST1")
    assert storm.depth is not None and storm.depth.provenance.basis is Basis.ASSUMED
    spray = next(h.part for h in metric.heads if h.name == "H1")
    assert spray.flow is not None and spray.flow.provenance.basis is Basis.TYPICAL
    assert spray.check_valve


def test_an_old_system_is_told_from_a_new_one(house: Design, metric: Design) -> None:
    assert {p.name for p in house.pipes if p.state == "existing"} == {"S1", "S2", "S3"}
    assert next(h for h in metric.heads if h.name == "H4").state == "existing"


@pytest.mark.parametrize("name", ["residential", "commercial", "broken", "unmeasured"])
def test_every_example_is_sound_language(name: str) -> None:
    read(shipped_text("examples", name, "design.plan"))


def test_places_that_hang_on_themselves_or_on_endless_chains_are_told() -> None:
    good = shipped_text("examples", "residential", "design.plan")
    ring = good.replace("outline (0, 0) -> (70, 0)", "outline Lot.northeast -> (70, 0)", 1)
    assert [p.code for p in read_design(SourceFile.of("d.plan", ring)).problems] == ["PG3006"]
    tees = "".join(f"  tee Q{n} at 1 ft east of Q{n + 1}\n" for n in range(2000)) + "  tee Q2000 at (1, 1)\n"
    chain = good.replace("mainline {\n", "mainline {\n" + tees, 1)
    found = read_design(SourceFile.of("d.plan", chain)).problems
    assert {p.code for p in found} == {"PG3006"} and len(found) <= 20
