"""Finds what a code asks about: the rope, the assembly, the fittings or the steel behind it.

A certificate, a tag, a test or a hold leads to the thing that it speaks of.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from certs.models import BreakingTest, Certificate, ProofTest, Tag, WireTest
from inventory.models import (
    Assembly,
    CutPiece,
    Delivery,
    FittingLot,
    Heat,
    Hold,
    MillDocument,
    Reel,
)
from inventory.models.hold import SUBJECTS
from inventory.queries.find import find_thing
from inventory.rules.refusal import Refusal
from inventory.rules.tag_code import fold, is_well_formed

Traceable = Heat | Reel | CutPiece | Assembly | FittingLot


class CannotTrace(Refusal):
    """The code is unknown, or leads to no single thing that was made or bought.

    `choices` are the codes of the things that could be meant.
    """

    def __init__(self, message: str, *, choices: Sequence[str] = ()) -> None:
        """Keep the choices beside the sentence, which names them too."""
        super().__init__(message, field="code")
        self.choices = tuple(choices)


@dataclass(frozen=True, slots=True)
class Found:
    """The thing, and the code of what led to it; "" when the code was its own."""

    thing: Traceable
    asked_as: str = ""


def find_traceable(code: str) -> Found:
    """Find the thing that a code asks about.

    Takes codes of things, tests, certificates (number or draft) and tags, as people type them.

    Raises:
        CannotTrace: unknown, or leading to none or to several things; the text names them.
    """
    asked = code.strip()
    named = find_thing(asked)
    if isinstance(named, Heat | Reel | CutPiece | Assembly | FittingLot):
        return Found(named)
    if named is not None:
        return Found(_one(named.code, _things_of(named)), named.code)
    claim = _claim(asked.upper()) or _tag(asked)
    if claim is None:
        raise CannotTrace(f"Nothing on record has the code “{asked}”.")
    return Found(_one(claim[0], claim[1]), claim[0])


def _claim(code: str) -> tuple[str, list[Traceable]] | None:
    certificate = Certificate.objects.filter(number=code).first()
    certificate = certificate or Certificate.objects.filter(draft_code=code).first()
    if certificate is not None:
        return code, _things_on(certificate)
    breaking = BreakingTest.objects.select_related("sample").filter(code=code).first()
    if breaking is not None:
        return code, [breaking.sample]
    wires = WireTest.objects.select_related("sample", "reel").filter(code=code).first()
    if wires is not None:
        return code, [wires.sample or wires.reel]
    proof = ProofTest.objects.select_related("assembly").filter(code=code).first()
    return (code, [proof.assembly]) if proof is not None else None


def _tag(text: str) -> tuple[str, list[Traceable]] | None:
    code = fold(text)
    if not is_well_formed(code):
        return None
    related = ("piece", "assembly", "certificate__assembly", "certificate__breaking_test__sample")
    tag = Tag.objects.select_related(*related).filter(code=code).first()
    if tag is None:
        return None
    if tag.certificate is not None:
        return code, _things_on(tag.certificate)
    return code, [thing for thing in (tag.piece, tag.assembly) if thing is not None]


def _things_on(certificate: Certificate) -> list[Traceable]:
    if certificate.assembly is not None:
        return [certificate.assembly]
    if certificate.breaking_test is not None:
        return [certificate.breaking_test.sample]
    pieces = CutPiece.objects.filter(certificate_ties__certificate=certificate)
    return list(pieces.order_by("certificate_ties__position"))


def _things_of(named: object) -> list[Traceable]:
    """List what a paper, a delivery or a hold speaks of; a party or a machine: nothing."""
    match named:
        case MillDocument():
            reels = Reel.objects.filter(mill_document=named, wound_from=None).order_by("code")
            lots = FittingLot.objects.filter(document=named).order_by("code")
            return [*reels, *lots]
        case Delivery():
            items = named.items.select_related("piece", "assembly").order_by("id")
            return [thing for item in items if (thing := item.piece or item.assembly) is not None]
        case Hold():
            found = (getattr(named, name) for name in SUBJECTS if name != "testing_machine")
            return [thing for thing in found if thing is not None]
        case _:
            return []


def _one(code: str, things: Sequence[Traceable]) -> Traceable:
    if not things:
        raise CannotTrace(
            f"{code} speaks of no heat, reel, piece, assembly or fitting lot that can be traced."
        )
    if len(things) > 1:
        codes = [thing.code for thing in things]
        raise CannotTrace(f"{code} speaks of {', '.join(codes)}: trace one of them.", choices=codes)
    return things[0]
