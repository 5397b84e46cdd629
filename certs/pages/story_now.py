"""Decides how a story says first what stands: holds, papers, the last proof load, reports, tags."""

from collections.abc import Iterator, Sequence

from django.urls import reverse

from certs.models import SiteReport
from certs.pages.addresses import page_of
from certs.pages.certificate_tables import SHAPES
from certs.pages.outcome_tables import outcome_shape
from certs.queries.trace_shapes import CertificateRow, Story
from inventory.pages.facts import Fact
from inventory.rules.tag_code import grouped

_NAMED = 3


def facts_now(story: Story, *, reports: Sequence[SiteReport]) -> list[Fact]:
    """Tell each thing that speaks for or against it by itself; no sum is made of them."""
    return [*_holds(story), *_papers(story), *_proof(story), *_reported(reports), *_tags(story)]


def _holds(story: Story) -> Iterator[Fact]:
    reaching = [hold["code"] for hold in story["holds"] if hold["reaches"] == "asked"]
    parts = [hold["code"] for hold in story["holds"] if hold["reaches"] != "asked"]
    if reaching:
        yield Fact("Holds", "under hold: do not use", shape="stop", note=", ".join(reaching))
    elif parts:
        yield Fact("Holds", "a part of it is under hold", shape="stop", note=", ".join(parts))
    else:
        yield Fact("Holds", "none stands", shape="good")


def _papers(story: Story) -> Iterator[Fact]:
    papers = [paper for paper in story["certificates"] if paper["number"]]
    in_force = [paper for paper in papers if paper["state"] == "issued"]
    if in_force:
        yield Fact("Papers in force", _named(in_force), shape="good")
    elif papers:
        last = papers[-1]
        yield Fact("Papers in force", "none", shape=SHAPES[last["state"]],
                   note=f"{last['number']} is {last['state']}")  # fmt: skip
    else:
        yield Fact("Papers in force", "none was issued", shape="open")


def _named(papers: Sequence[CertificateRow]) -> str:
    named = ", ".join(paper["number"] for paper in papers[:_NAMED])
    return f"{named} and {len(papers) - _NAMED} more" if len(papers) > _NAMED else named


def _proof(story: Story) -> Iterator[Fact]:
    counted = [test for test in story["proof_tests"] if not test["reversed_at"]]
    if story["asked"]["kind"] != "assembly" or not counted:
        return
    last = counted[-1]
    note = f"{last['code']}, {last['tested_at'][:10]}"
    words = last["outcome"].replace("_", " ")
    yield Fact("Last proof load", words, shape=outcome_shape(last["outcome"]), note=note)


def _reported(reports: Sequence[SiteReport]) -> Iterator[Fact]:
    waiting = [report for report in reports if report.closed_at is None]
    if waiting:
        code = waiting[-1].code
        note = waiting[-1].get_kind_display()
        more = f" and {len(waiting) - 1} more" if len(waiting) > 1 else ""
        yield Fact(
            "Reported from site, not settled", f"{code}{more}", href=page_of(code), note=note
        )


def _tags(story: Story) -> Iterator[Fact]:
    own = [t for t in story["tags"] if t["thing"] == story["asked"]["code"] and not t["revoked_at"]]
    if own:
        code = own[-1]["code"]
        href = reverse("certs:tag", args=[code])
        yield Fact("Its tag", grouped(code), href=href, note="what anyone on site is told now")
