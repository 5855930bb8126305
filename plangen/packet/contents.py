"""What a packet is made of: the results of every stage, and the texts of its page. Plain data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from plangen.checking.duties import Duty
from plangen.checking.finding import Finding
from plangen.checking.other_kinds import KindJudged
from plangen.hydraulics.results import Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.packet.annual_test import Cycle
from plangen.packet.duties import cycle_of
from plangen.packet.least_supply import LeastSupply
from plangen.sheets.marks import SheetSet
from plangen.text.source import SourceSet


@dataclass(frozen=True, slots=True)
class PackNote:
    """What the page says of one rule pack."""

    name: str
    title: str
    authority: str
    edition: str
    effective: str
    contact: str
    banner: str


@dataclass(frozen=True, slots=True)
class FileNote:
    """One file of the packet or of its inputs. `link` is a path inside the packet or empty."""

    path: str
    sha256: str
    link: str = ""


@dataclass(frozen=True, slots=True)
class PageTexts:
    """The shipped texts of the page: templates and notes by name, one style sheet, one script, font faces."""

    templates: Mapping[str, str]
    notes: Mapping[str, str]
    style: str
    script: str
    font_faces: str = ""


@dataclass(frozen=True, slots=True)
class Contents:
    """Everything the page may show. `svgs` holds each annotated sheet's drawing, in the order of `sheets`."""

    design: Design
    hydraulics: Hydraulics
    layout: Layout
    sheets: SheetSet
    svgs: tuple[str, ...]
    findings: tuple[Finding, ...]
    packs: tuple[PackNote, ...]
    sources: SourceSet
    digest: str
    sheet_digests: tuple[tuple[str, str], ...]
    inputs: tuple[FileNote, ...]
    products: tuple[FileNote, ...]
    version: str
    least: LeastSupply | None = None
    duties: tuple[Duty, ...] = ()  # what the packs in force ask by the calendar or in words
    kinds: tuple[KindJudged, ...] = ()  # what the rules say of each kind of assembly

    @property
    def units(self) -> str:
        """Return the unit system of everything shown."""
        return self.design.project.units

    @property
    def cycle(self) -> Cycle:
        """Return how often the assemblies are tested."""
        return cycle_of(self.duties)
