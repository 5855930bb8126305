"""What the report says of the design and of the packs it was checked against. Pure."""

from __future__ import annotations

from plangen.build.digest import sha256
from plangen.build.pipeline import Run
from plangen.build.report_values import Facts


def design_facts(run: Run) -> Facts:
    """Return the design's file, its digest and its title block; an unreadable text has its file only."""
    facts: Facts = {
        "file": run.name,
        "files": [{"file": i.name, "sha256": sha256(i.raw)} for i in run.inputs],
    }
    if run.design is None:
        return facts
    project = run.design.project
    facts |= {
        "title": project.title,
        "address": project.address,
        "parcel": project.parcel,
        "jurisdictions": list(project.jurisdictions),
        "permit": project.permit,
        "issued": project.issued.isoformat() if project.issued else None,
        "units": project.units,
        "revisions": [
            {"label": r.label, "date": r.date.isoformat(), "text": r.text, "answers": r.answers}
            for r in project.revisions
        ],
    }
    return facts


def packs_facts(run: Run) -> list[Facts]:
    """Return each pack that was used, with where it comes from."""
    if run.checked is None:
        return []
    digests = {p.name: sha256(p.raw) for p in run.packs}
    return [
        {
            "name": pack.name,
            "title": pack.title,
            "authority": pack.authority,
            "edition": pack.edition,
            "effective": pack.effective.isoformat(),
            "chain": list(pack.chain),
            "sha256": digests.get(f"rules/{pack.name}/pack.rules", ""),
        }
        for pack in run.checked.packs
    ]
