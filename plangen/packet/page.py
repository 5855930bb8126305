"""`index.html`: the views of every section put through the page's templates. Texts in, one text out."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from plangen.checking.open_causes import open_causes
from plangen.packet.anchors import slug
from plangen.packet.annual_test import calendar_text
from plangen.packet.application import application
from plangen.packet.assembly_form import test_forms
from plangen.packet.bill import bill_table
from plangen.packet.checklist import checklist
from plangen.packet.code_check import ORDER, entries, groups
from plangen.packet.compliance import compliance_form
from plangen.packet.contents import Contents, PageTexts
from plangen.packet.drawings import drawings, drawn_places
from plangen.packet.duties import step_duties
from plangen.packet.inspections import build_to, cards
from plangen.packet.least_supply import least_table, least_words
from plangen.packet.locate import locate_form
from plangen.packet.months import months_plot
from plangen.packet.notes import note_html
from plangen.packet.objects import object_rows
from plangen.packet.owner_cards import (
    controller_card,
    maintenance,
    next_test_form,
    shut_off_card,
    walk_through,
)
from plangen.packet.pressure import case_views, cases_table
from plangen.packet.provenance import assumption_table, digest_table, input_table, sheet_digest_table
from plangen.packet.rain_map import rain_map
from plangen.packet.reasoning import answers_table, chain, kinds_table, set_aside
from plangen.packet.recorded import record_tables, step_records
from plangen.packet.schedules import schedules
from plangen.packet.season_cards import season_form, spring_form, winter_form
from plangen.packet.spread import spread
from plangen.packet.studies import study_view, year_view
from plangen.packet.templating import templates, without_blank_lines
from plangen.packet.verdict import verdict
from plangen.packet.waiting import waiting
from plangen.packet.watering import coverage_table, watering_inputs, watering_table
from plangen.sheets.procedure_steps import CAUTION, procedure_steps, valve_states

# The order of the page. (anchor, words of the menu, template)
SECTIONS: tuple[tuple[str, str], ...] = (
    ("verdict", "Verdict"),
    ("application", "Application data"),
    ("checklist", "Submittal checklist"),
    ("scope", "Scope of work"),
    ("hazard", "Hazard reasoning"),
    ("code-check", "Code check"),
    ("sheets", "Sheets"),
    ("objects", "Objects"),
    ("pressure", "Pressure"),
    ("schedules", "Schedules"),
    ("takeoff", "Takeoff"),
    ("watering", "Watering schedule"),
    ("sequence", "Sequence of work"),
    ("inspections", "Inspection cards"),
    ("test-report", "Assembly test report"),
    ("forms", "Forms"),
    ("handover", "Owner handover"),
    ("worksheet", "Reviewer's worksheet"),
    ("provenance", "Provenance"),
)
SHORT_DIGEST = 12


def page_html(contents: Contents, texts: PageTexts) -> str:
    """Return the whole packet as one page that fetches nothing."""
    environment = templates(texts.templates)
    environment.filters["slug"] = slug
    environment.filters["note"] = note_html
    page = environment.get_template("page.html").render(**_views(contents, texts))
    return without_blank_lines(page)


def _views(contents: Contents, texts: PageTexts) -> dict[str, Any]:
    design, project = contents.design, contents.design.project
    last = project.revisions[-1] if project.revisions else None
    return {
        "style": Markup(texts.font_faces + texts.style),
        "script": Markup(texts.script),
        "notes": {name: note_html(text, heading_shift=0) for name, text in sorted(texts.notes.items())},
        "sections": SECTIONS,
        "project": project,
        "revision": last,
        "issued": project.issued.isoformat() if project.issued else "",
        "digest": contents.digest,
        "design_file": contents.inputs[0].path if contents.inputs else "",
        "short_digest": contents.digest[:SHORT_DIGEST],
        "version": contents.version,
        "packs": contents.packs,
        "application": application(contents),
        "answers": answers_table(design),
        "other_kinds": kinds_table(contents.kinds) if contents.kinds else None,
        "chain": chain(contents.findings),
        "set_aside": set_aside(contents.findings),
        **_findings(contents),
        "drawings": drawings(contents),
        "objects": object_rows(contents),
        "spread": spread(contents),
        "studies": study_view(contents),
        "year": year_view(contents),
        "cases_table": cases_table(contents),
        "cases": case_views(contents),
        "failures": contents.hydraulics.failures,
        "water_notes": contents.hydraulics.notes,
        "layout_notes": contents.layout.notes,
        "schedules": schedules(contents),
        "bill": bill_table(contents.layout),
        "watering": watering_table(contents),
        "watering_inputs": watering_inputs(contents),
        "months": months_plot(contents),
        "rain": rain_map(contents),
        "coverage": coverage_table(contents),
        **_work(contents),
        **_go(contents),
        "cards": cards(contents),
        "build_to": build_to(contents.findings),
        **_papers(contents),
        **_origins(contents),
    }


def _work(contents: Contents) -> dict[str, Any]:
    """Return the steps of the work, what packs and records add to them, and all that is recorded."""
    design, hydraulics, units = contents.design, contents.hydraulics, contents.units
    return {
        "steps": procedure_steps(design, hydraulics, contents.layout, units),
        "valves": valve_states(design, hydraulics, units),
        "step_records": step_records(contents.design),
        "step_duties": step_duties(contents.duties),
        "records": record_tables(contents.design, contents.findings),
    }


def _go(contents: Contents) -> dict[str, Any]:
    """Return what stands over the steps of the work, and the least supply for the day of the start-up."""
    if contents.least is None:
        return {"steps_caution": CAUTION, "go_words": (), "go_table": None}
    words, table = least_words(contents.least, contents.units), least_table(contents.least, contents.units)
    return {"steps_caution": CAUTION, "go_words": words, "go_table": table}


def _findings(contents: Contents) -> dict[str, Any]:
    """Return the verdict and the findings; what many of them wait for is said once."""
    found = entries(contents, drawn_places(contents))
    causes = open_causes(contents.findings, contents.design)
    return {
        "verdict": verdict(contents.findings, causes),
        "statuses": tuple((s.value, s.words) for s in ORDER),
        "entries": found,
        "groups": groups(found, waiting(causes, contents.sources)),
    }


def _origins(contents: Contents) -> dict[str, Any]:
    """Return where everything comes from, and the digests that prove it."""
    return {
        "assumptions": assumption_table(contents),
        "inputs": input_table(contents),
        "input_files": digest_table("input-files", "Digests of what went in", contents.inputs),
        "product_files": digest_table("product-files", "Digests of what came out", contents.products),
        "sheet_digests": sheet_digest_table(contents),
    }


def _papers(contents: Contents) -> dict[str, Any]:
    """Return everything that is filled in, signed or handed over."""
    return {
        "checklist": checklist(contents),
        "forms": test_forms(contents),
        "papers": (locate_form(contents), compliance_form(contents)),
        "owner": (
            shut_off_card(contents),
            controller_card(contents),
            season_form(contents),
            walk_through(contents),
            maintenance(contents),
            winter_form(contents),
            spring_form(contents),
            next_test_form(contents),
        ),
        "calendar": bool(calendar_text(contents.design, contents.cycle)),
    }
