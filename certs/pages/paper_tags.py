"""Template tag that offers a thing its paper; built into the template engine (settings).

The pages of pieces and assemblies are the inventory's, which knows no papers: a tag brings it in.
"""

from dataclasses import dataclass

from django import template
from django.urls import reverse

from certs.pages.certificate_tables import name_of
from certs.queries.papers_to_issue import Certifiable, paper_of_its_own
from inventory.models import CutPiece

register = template.Library()


@dataclass(frozen=True, slots=True)
class OfferedPaper:
    """Where the paper of a thing is, or where it is drafted; neither: it gets none of its own."""

    name: str
    href: str
    draft_at: str


@register.simple_tag
def paper_offered(thing: Certifiable) -> OfferedPaper:
    """Tell the paper that speaks of a thing alone, or that one can be drafted."""
    paper = paper_of_its_own(thing)
    if paper is not None:
        name = name_of(paper)
        word = f"Its draft {name}" if not paper.number else f"Its certificate {name}"
        return OfferedPaper(word, reverse("certs:certificate", args=[name]), "")
    if isinstance(thing, CutPiece) and not _may_be_certified(thing):
        return OfferedPaper("", "", "")
    return OfferedPaper("", "", reverse("certs:own_paper", args=[thing.code]))


def _may_be_certified(piece: CutPiece) -> bool:
    """Tell whether to offer a paper; the service decides."""
    is_bound = any(hasattr(piece, name) for name in ("assembly_tie", "wound_reel"))
    return piece.purpose == CutPiece.Purpose.SUPPLY and not piece.is_reversed and not is_bound
