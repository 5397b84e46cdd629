"""Answers a scanned tag: what the thing is, whether it is good now, and what it may carry.

The answer is about now, not about the day the paper was issued: holds, withdrawals and de-ratings
since then count. No customer is named.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from certs.models import Certificate, Tag
from certs.queries.papers import Paper, papers_of_assembly, papers_of_piece
from certs.queries.standing_strength import Load, loads_in
from certs.queries.strength import is_sling
from certs.queries.tag_doubts import doubts_about
from certs.queries.tag_examination import LastProof, last_proof
from certs.queries.tag_stops import stops_on
from certs.rules.cautions import cautions_for
from certs.rules.said import Said
from inventory.models import Assembly, CutPiece
from inventory.rules.tag_code import fold, is_well_formed
from inventory.rules.units import format_metres


class Standing(StrEnum):
    """The first line of the answer."""

    GOOD = "good"
    DO_NOT_USE = "do_not_use"
    SUPERSEDED = "superseded"
    NO_PAPER = "no_paper"


@dataclass(frozen=True, slots=True)
class TagAnswer:
    """What a stranger is told. `reasons` say why it is not good; empty when it is.

    `doubts` are what was reported from site and not settled yet: told whatever the standing is.
    """

    code: str
    standing: Standing
    reasons: tuple[str, ...]
    doubts: tuple[str, ...]
    what: str
    identity: tuple[tuple[str, str], ...]
    loads: tuple[Load, ...]
    papers: tuple[Paper, ...]
    cautions: tuple[str, ...]
    proof: LastProof | None


def tag_answer(text: str) -> TagAnswer | None:
    """Answer what was scanned or typed; None for a wrong code and for an unknown one alike."""
    code = fold(text)
    if not is_well_formed(code):
        return None
    tag = (
        Tag.objects.select_related(
            "piece__reel",
            "piece__assembly_tie__assembly",
            "piece__wound_reel",
            "assembly",
            "certificate__assembly",
            "certificate__pdf",
        )
        .filter(code=code)
        .first()
    )
    return None if tag is None else _answer(tag)


def _answer(tag: Tag) -> TagAnswer:
    pieces, assembly, papers = _meant(tag)
    in_force = [paper for paper in papers if paper.is_in_force]
    stops = tuple(stops_on(tag, pieces=pieces, assembly=assembly, in_force=in_force))
    standing, reasons = _standing(papers, in_force, stops)
    return TagAnswer(
        code=tag.code,
        standing=standing,
        reasons=reasons,
        doubts=tuple(doubts_about(tag, pieces=pieces, assembly=assembly)),
        what=_what(tag, pieces, assembly),
        identity=tuple(_identity(pieces, assembly)),
        loads=tuple(loads_in(in_force)) if standing == Standing.GOOD else (),
        papers=tuple(papers),
        cautions=_cautions(assembly),
        proof=last_proof(in_force),
    )


def _cautions(assembly: Assembly | None) -> tuple[str, ...]:
    return cautions_for(
        is_sling=assembly is not None and is_sling(assembly),
        is_rope_only=assembly is None,
        is_static=assembly is not None and assembly.use == Assembly.Use.STATIC,
    )


def _meant(tag: Tag) -> tuple[list[CutPiece], Assembly | None, list[Paper]]:
    """Find pieces, assembly and papers that the tag speaks of."""
    if tag.piece is not None:
        tie = getattr(tag.piece, "assembly_tie", None)
        if tie is not None:
            papers = [*papers_of_assembly(tie.assembly), *papers_of_piece(tag.piece)]
            return [tag.piece], tie.assembly, papers
        return [tag.piece], None, papers_of_piece(tag.piece)
    if tag.assembly is not None:
        return _pieces_in(tag.assembly), tag.assembly, papers_of_assembly(tag.assembly)
    certificate = tag.certificate
    if certificate is None:
        return [], None, []
    papers = [Paper.of(certificate)]
    if certificate.assembly is not None:
        return _pieces_in(certificate.assembly), certificate.assembly, papers
    return _pieces_on(certificate), None, papers


def _pieces_in(assembly: Assembly) -> list[CutPiece]:
    pieces = CutPiece.objects.filter(assembly_tie__assembly=assembly).select_related("reel")
    return list(pieces.order_by("assembly_tie__position"))


def _pieces_on(certificate: Certificate) -> list[CutPiece]:
    pieces = CutPiece.objects.select_related("reel")
    if certificate.breaking_test_id:
        return list(pieces.filter(breaking_tests=certificate.breaking_test_id))
    chosen = pieces.filter(certificate_ties__certificate=certificate)
    return list(chosen.order_by("certificate_ties__position"))


def _standing(
    papers: Sequence[Paper], in_force: Sequence[Paper], stops: tuple[str, ...]
) -> tuple[Standing, tuple[str, ...]]:
    if stops:
        return Standing.DO_NOT_USE, stops
    if in_force:
        return Standing.GOOD, ()
    if any(paper.state == Certificate.State.WITHDRAWN for paper in papers):
        ended = [p.ended_text for p in papers if p.state == Certificate.State.WITHDRAWN]
        return Standing.DO_NOT_USE, tuple(ended)
    if papers:
        return Standing.SUPERSEDED, tuple(paper.ended_text for paper in papers)
    reason = "No certificate in force speaks of this item. Do not rely on it; ask the issuer."
    return Standing.NO_PAPER, (Said(reason),)


def _what(tag: Tag, pieces: Sequence[CutPiece], assembly: Assembly | None) -> str:
    if tag.certificate is not None:
        kind = tag.certificate.get_kind_display()
        return Said(f"{kind[0].upper()}{kind[1:]} {{code}}", code=str(tag.certificate.number))
    if assembly is not None:
        kind = assembly.get_kind_display()
        return Said(f"{kind[0].upper()}{kind[1:]} {{code}}", code=assembly.code)
    if not pieces:
        return Said("Unknown item")
    return Said("Wire rope, {length}", length=format_metres(pieces[0].length_mm))


def _identity(pieces: Sequence[CutPiece], assembly: Assembly | None) -> Iterator[tuple[str, str]]:
    """Give what is compared with the item in the hand: a copied tag cannot be told by its code."""
    if assembly is not None:
        yield Said("Assembly"), assembly.code
    for piece in pieces:
        yield (
            piece.code,
            Said(
                "{rope}, {length}, cut from reel {reel} at {place}",
                rope=piece.reel.designation,
                length=format_metres(piece.length_mm),
                reel=piece.reel.code,
                place=format_metres(piece.from_mm),
            ),
        )
