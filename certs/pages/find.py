"""Decides where the one search box leads: straight to what was surely meant, else to a list."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse

from certs.pages.acting import may_do
from certs.pages.addresses import page_of, story_of
from certs.pages.forms.find_photo import FindByPhotoForm
from certs.pages.rendering import show
from certs.queries.search import Searched, search
from certs.queries.trace_find import CannotTrace, find_traceable
from certs.rules.roles import ClaimAct
from inventory.models import Party
from inventory.pages.acting import signed_in_to_act, typed
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.queries.search import Hit
from inventory.rules.tag_code import grouped
from inventory.services.numbering import CERTIFICATE_DRAFT

LONGEST: Final = 200
_TOLD_AS_STORY: Final = frozenset({"heat", "reel", "cut piece", "assembly", "fitting lot", "tag"})


def _list_of(name: str, field: str) -> Callable[[str], str]:
    return lambda code: f"{reverse(name)}?{urlencode({field: code})}"


# A firm has no page of its own: what is on record of it stands in a list.
_OF_FIRMS: Final[Mapping[str, Callable[[str], str]]] = MappingProxyType(
    {
        str(Party.Kind.CUSTOMER.label): _list_of("inventory:orders", "customer"),
        str(Party.Kind.MILL.label): _list_of("inventory:heats", "mill"),
        str(Party.Kind.FITTING_MAKER.label): _list_of("inventory:documents", "mill"),
    }
)


@dataclass(frozen=True, slots=True)
class Group:
    """The hits of one kind; `has_more` says that the word stands in still more of them."""

    key: str
    kind: str
    table: Table
    has_more: bool


@signed_in_to_act
def find(request: HttpRequest) -> HttpResponse:
    """Find by what is typed or scanned, or by a photograph of it."""
    form = FindByPhotoForm(*typed(request))
    if request.method == "POST" and form.is_valid():
        return redirect(f"{reverse('certs:find')}?{urlencode({'q': form.read('photograph')})}")
    text = request.GET.get("q", "").strip()[:LONGEST]
    found = None
    if text and request.method != "POST":
        found = search(text, reads_reports=may_do(request, ClaimAct.READ_REPORTS))
        if found.sure is not None:
            return HttpResponseRedirect(_straight_to(found.sure))
    return show(
        request,
        "certs/find.html",
        area="trace",
        form=form,
        find_text=text,
        found=found,
        groups=_groups(found) if found else [],
    )


def _straight_to(hit: Hit) -> str:
    """Give the story of what a paper or a tag speaks of; where that is several things, its page.

    A draft is no record yet: whoever asks for it works on it.
    """
    if hit.kind in {"certificate", "tag"} and not hit.code.startswith(f"{CERTIFICATE_DRAFT}-"):
        try:
            find_traceable(hit.code)
        except CannotTrace:
            return page_of(hit.code) or story_of(hit.code)
        return story_of(hit.code)
    return _where(hit)


def _where(hit: Hit) -> str:
    if hit.kind in _TOLD_AS_STORY:
        return story_of(hit.code)
    if hit.kind in _OF_FIRMS:
        return _OF_FIRMS[hit.kind](hit.code)
    return page_of(hit.code)


def _groups(found: Searched) -> list[Group]:
    return [
        Group(
            key=f"hits-{place}",
            kind=kind,
            table=build_table(
                columns=(kind.capitalize(), "What it is"),
                lines=(Line((_cell(hit), hit.text), is_lit=hit.is_sure) for hit in hits),
                folds=True,
            ),
            has_more=has_more,
        )
        for place, (kind, hits, has_more) in enumerate(found.kinds, 1)
    ]


def _cell(hit: Hit) -> Cell:
    shown = grouped(hit.code) if hit.kind == "tag" else hit.code
    return Cell(shown, href=_where(hit))
