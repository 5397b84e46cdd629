"""Tells a bundle as its report prints it: in words and drawings, long lists cut and said to be.

What is cut stands whole in the other files of the bundle.
"""

from collections.abc import Sequence
from typing import Any, Final

from certs.documents.bundle_readme import Cover
from certs.documents.decision_told import tell_decision
from certs.models import ReceivingCheck, WireTest
from certs.queries.bundle_aftermath import aftermath_told
from certs.queries.bundle_files import drawn_lineage, holds_told, people_told
from certs.queries.bundle_shapes import Bundled
from certs.queries.bundle_tests import TestTold
from certs.queries.letterhead import current_letterhead
from certs.queries.row_facts import Facts, person_told
from inventory.documents.svg import image_source
from inventory.models import JournalEntry

MOST_ROWS: Final = 300
"""As many rows of a list are printed; own choice: paper is read, files are searched."""


def report_facts(
    bundle: Bundled, *, cover: Cover, tests: Sequence[TestTold], with_names: bool
) -> Facts:
    """Tell everything that the report prints."""
    story = bundle.story
    taken_back = {row["code"]: row["reversed_at"] for row in story["wire_tests"]}
    return {
        "cover": cover,
        "issuer": current_letterhead().as_json(),
        "story": story,
        "on": bundle.on,
        "drawing": image_source(str(drawn_lineage(bundle))),
        "ropes": story["back"],
        "lots": [*story["fitting_lots"], *story["made_lots"]],
        "documents": bundle.mill_documents,
        "checks": [_check(check, with_names=with_names) for check in bundle.checks],
        "tests": [_test(told) for told in tests],
        "wires": [_wires(t, taken_back[t.code], with_names) for t in bundle.wire_tests],
        "certificates": [row for row in story["certificates"] if row["number"]],
        "pieces": _cut(story["pieces"]),
        "assemblies": _cut(story["assemblies"]),
        "deliveries": _cut(story["deliveries"]),
        "customers": story["customers"],
        "holds": [
            {**facts, **row}
            for facts, row in zip(holds_told(bundle, with_names), _subjects(bundle), strict=True)
        ],
        **aftermath_told(bundle, with_names=with_names),
        "people": people_told(bundle, with_names),
        "entries": _cut([_entry(entry) for entry in bundle.entries]),
        "checkpoint": bundle.checkpoint,
        "former": bundle.former,
    }


def _cut(rows: Sequence[Any]) -> dict[str, Any]:
    return {"rows": rows[:MOST_ROWS], "left": max(0, len(rows) - MOST_ROWS), "all": len(rows)}


def _entry(entry: JournalEntry) -> Facts:
    told = entry.act.replace("_", " ")
    return {"number": entry.number, "at": entry.at, "told": told, "subject": entry.subject}


def _check(check: ReceivingCheck, *, with_names: bool) -> Facts:
    return {
        "row": check,
        "by": person_told(check.checked_by, with_names=with_names),
        "standard": check.standard or (str(check.agreed) if check.agreed else ""),
    }


def _test(told: TestTold) -> Facts:
    decision = told.facts and tell_decision(
        decision=told.facts["decision"], uncertainty=told.facts["uncertainty"]
    )
    return {
        "told": told,
        "facts": told.facts,
        "decision": decision,
        "image": image_source(str(told.curve)) if told.curve else "",
    }


def _wires(test: WireTest, reversed_at: str, with_names: bool) -> Facts:  # noqa: FBT001 -- private
    return {
        "row": test,
        "by": person_told(test.tested_by, with_names=with_names),
        "wires": len(test.wires.all()),
        "reversed_at": reversed_at,
    }


def _subjects(bundle: Bundled) -> list[Facts]:
    """Say of each hold what it is on."""
    words = {"asked": "it reaches this", "part": "on a part made of it", "machine": "on a machine"}
    return [
        {"on": one.on, "subject": one.subject, "reaches": words[one.reaches]}
        for one in bundle.holds
    ]
