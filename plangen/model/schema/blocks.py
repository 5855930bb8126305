"""The whole language table: every kind of block."""

from __future__ import annotations

from plangen.model.schema.ground import HAZARDS, PROJECT, SITE
from plangen.model.schema.job import CHANGES_BLOCK, PROCEDURE, RECORDS
from plangen.model.schema.part import PART
from plangen.model.schema.review import REVIEW
from plangen.model.schema.shape import BlockSpec
from plangen.model.schema.water import CONNECTION, MAINLINE, SUPPLY
from plangen.model.schema.zone import CONTROL, ZONE

BLOCKS: dict[str, BlockSpec] = {
    block.lead: block
    for block in (
        PROJECT,
        SITE,
        HAZARDS,
        SUPPLY,
        CONNECTION,
        MAINLINE,
        ZONE,
        CONTROL,
        PROCEDURE,
        REVIEW,
        RECORDS,
        CHANGES_BLOCK,
        PART,
    )
}
