"""Prints labels for pieces and assemblies, giving a tag to each that has none standing."""

from collections.abc import Sequence
from datetime import datetime

from django.conf import settings
from django.db import transaction

from certs.documents.label_pdf import label_pdf
from certs.models import Tag
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.tags import issue_tag
from inventory.documents.tag_label import Label
from inventory.models import Assembly, CutPiece, Person
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres
from inventory.services.locks import lock_rows

# A sheet of labels is printed in the request; more than this is several sheets.
MOST_LABELS = 300


class CannotPrintLabels(Refusal):
    """The labels cannot be printed."""


def print_labels(
    *,
    things: Sequence[CutPiece | Assembly],
    sheet: str,
    skip: int,
    by: Person,
    at: datetime,
) -> bytes:
    """Print one label for each thing as PDF, with the standing tag or a new one.

    Raises:
        NotAllowed: the person's role issues no tags.
        CannotPrintLabels: too many at once.
        Refusal: none at all, a sheet that is none, or a piece that gets no tag.
    """
    require(by=by, act=ClaimAct.ISSUE_TAG)
    if len(things) > MOST_LABELS:
        message = f"Print at most {MOST_LABELS} labels at once; name fewer things."
        raise CannotPrintLabels(message, field="things")
    with transaction.atomic():
        # Locked all at once and in order, so that two printers never give one thing two tags.
        lock_rows(CutPiece, (thing.pk for thing in things if isinstance(thing, CutPiece)))
        lock_rows(Assembly, (thing.pk for thing in things if isinstance(thing, Assembly)))
        labels = [_label(thing, by=by, at=at) for thing in things]
    # Printing is slow, and holds nothing locked; a tag that it fails for is found the next time.
    return label_pdf(labels, sheet=sheet, origin=settings.PUBLIC_ORIGIN, made_at=at, skip=skip)


def _label(thing: CutPiece | Assembly, *, by: Person, at: datetime) -> Label:
    standing = Tag.objects.filter(revoked_at=None).order_by("-id")
    if isinstance(thing, Assembly):
        tag = standing.filter(assembly=thing).first() or issue_tag(assembly=thing, by=by, at=at)
        return Label(tag.code, thing.code, (thing.get_kind_display(),))
    tag = standing.filter(piece=thing).first() or issue_tag(piece=thing, by=by, at=at)
    lines = (thing.reel.designation, format_metres(thing.length_mm))
    return Label(tag.code, thing.code, lines)
