"""Decides how drafts, and things without a paper, are offered for many to be chosen at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from certs.models import Certificate
from certs.pages.addresses import page_of
from certs.pages.mending import mend_at
from certs.queries.checklist import checklists, lacking
from certs.queries.papers_to_issue import codes_of_pieces
from inventory.models import Assembly, CutPiece
from inventory.pages.reading import shown_metres


@dataclass(frozen=True, slots=True)
class Lack:
    """One thing that a draft lacks, and where it is put right."""

    name: str
    text: str
    href: str


@dataclass(frozen=True, slots=True)
class OfferedDraft:
    """A draft to tick: what it is of, for whom, and what it lacks; nothing: it is ready."""

    code: str
    what: str
    customer: str
    lacks: tuple[Lack, ...]

    @property
    def is_ready(self) -> bool:
        """Tell whether it can be issued as it is."""
        return not self.lacks


@dataclass(frozen=True, slots=True)
class OfferedThing:
    """A piece or an assembly to tick."""

    code: str
    what: str
    href: str


def offered_drafts(
    drafts: Sequence[Certificate], *, on: date, key_trouble: str = ""
) -> list[OfferedDraft]:
    """Hold each draft against the record of a day."""
    codes = codes_of_pieces(drafts)
    found = checklists(drafts, on=on, key_trouble=key_trouble)
    return [
        OfferedDraft(
            code=draft.draft_code,
            what=what_it_is_of(draft, piece_codes=codes[draft.pk]),
            customer=draft.customer.name if draft.customer else "nobody named",
            lacks=tuple(
                Lack(item.name, item.text, mend_at(item, draft)) for item in lacking(items)
            ),
        )
        for draft, items in zip(drafts, found, strict=True)
    ]


def offered_things(things: Sequence[CutPiece | Assembly]) -> list[OfferedThing]:
    """Say what each thing is."""
    return [OfferedThing(thing.code, _thing(thing), page_of(thing.code)) for thing in things]


def what_it_is_of(draft: Certificate, *, piece_codes: Sequence[str]) -> str:
    """Say what a draft is and of which thing, in a few words."""
    if draft.assembly:
        return f"{draft.get_document_kind_display()}, {draft.assembly.code}"
    if draft.breaking_test:
        return f"{draft.get_document_kind_display()}, {draft.breaking_test.code}"
    if len(piece_codes) == 1:
        return f"{draft.get_kind_display()}, {piece_codes[0]}"
    return f"{draft.get_kind_display()}, {len(piece_codes)} pieces from {piece_codes[0]}"


def _thing(thing: CutPiece | Assembly) -> str:
    if isinstance(thing, CutPiece):
        return f"{shown_metres(thing.length_mm)} of {thing.reel.designation}"
    return thing.get_kind_display()
