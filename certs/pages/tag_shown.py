"""Decides what of a tag's answer stands on its page, in which order and in how many words.

What is good, and what it may carry, was decided by `tag_status`; here it is put into the language
that is spoken now. Long lists are cut and say so: the page must load on a weak signal.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Final

from django.utils.safestring import SafeString
from django.utils.timezone import localdate
from django.utils.translation import gettext

from certs.pages.saying import day_told, told, translated
from certs.queries.papers import Paper
from certs.queries.standing_strength import Load
from certs.queries.tag_status import Standing, TagAnswer
from certs.rules.cautions import LOOK_IT_OVER
from certs.rules.load_words import load_quantity, load_sentences
from certs.rules.said import Said
from certs.rules.whole_months import whole_months

MOST_PIECES: Final = 8
MOST_PAPERS: Final = 3
MOST_LOADS: Final = 8


@dataclass(frozen=True, slots=True)
class Verdict:
    """The first lines of the answer; `look` is the class that the style knows."""

    look: str
    word: str
    text: str


_VERDICTS: Final[Mapping[Standing, Verdict]] = MappingProxyType(
    {
        Standing.GOOD: Verdict(
            "good",
            "Good on record",
            "Its certificate is in force, and nothing on record speaks against it today. The record"
            " cannot see its present condition: look it over before each use.",
        ),
        Standing.DO_NOT_USE: Verdict("stop", "Do not use", "Take it out of use and ask us."),
        Standing.SUPERSEDED: Verdict(
            "past",
            "Superseded",
            "This paper has been replaced and is no longer in force. Ask for the new one.",
        ),
        Standing.NO_PAPER: Verdict(
            "past", "No certificate", "Do not rely on this item before you have asked us."
        ),
    }
)
_GOOD_BUT_REPORTED: Final = Verdict(
    "good",
    "Good on record, but reported",
    "Its certificate is in force. The record cannot see its present condition.",
)


@dataclass(frozen=True, slots=True)
class LoadShown:
    """A load, the legs and angles that it is for, and what else must be known of it."""

    value: str
    first: SafeString
    rest: tuple[SafeString, ...]


@dataclass(frozen=True, slots=True)
class LoadsShown:
    """The loads of one quantity; `notes` go for each of them. `is_limit`: it may carry them."""

    quantity: SafeString
    is_limit: bool
    loads: tuple[LoadShown, ...]
    notes: tuple[SafeString, ...]


@dataclass(frozen=True, slots=True)
class PaperShown:
    """A paper, and what became of it; `ended` is empty while it is in force."""

    title: str
    number: str
    issued: str
    ended: str
    is_in_force: bool
    is_evaluation: bool


@dataclass(frozen=True, slots=True)
class TagShown:
    """The page of a tag, in one language."""

    code: str
    is_good: bool
    verdict: Verdict
    reasons: tuple[SafeString, ...]
    what: SafeString
    identity: tuple[tuple[SafeString, SafeString], ...]
    more_pieces: int
    loads: tuple[LoadsShown, ...]
    more_loads: int
    has_limit: bool
    proof_day: str
    proof_months: int
    cautions: tuple[str, ...]
    papers: tuple[PaperShown, ...]
    more_papers: int


def tag_shown(answer: TagAnswer, *, today: date) -> TagShown:
    """Put an answer into the words of the page, in the language that is spoken now."""
    loads = tuple(_grouped(answer.loads[:MOST_LOADS]))
    proof = answer.proof
    return TagShown(
        code=answer.code,
        is_good=answer.standing is Standing.GOOD,
        verdict=_verdict(answer),
        reasons=tuple(told(text) for text in (*answer.reasons, *answer.doubts)),
        what=told(answer.what),
        identity=tuple((told(word), told(text)) for word, text in answer.identity[:MOST_PIECES]),
        more_pieces=max(len(answer.identity) - MOST_PIECES, 0),
        loads=loads,
        more_loads=max(len(answer.loads) - MOST_LOADS, 0),
        has_limit=any(group.is_limit for group in loads),
        proof_day=day_told(proof.day) if proof else "",
        proof_months=whole_months(proof.day, today) if proof else 0,
        cautions=translated(tuple(one for one in answer.cautions if one != LOOK_IT_OVER)),
        papers=tuple(map(_paper, answer.papers[:MOST_PAPERS])),
        more_papers=max(len(answer.papers) - MOST_PAPERS, 0),
    )


def _verdict(answer: TagAnswer) -> Verdict:
    is_reported = answer.standing is Standing.GOOD and answer.doubts
    verdict = _GOOD_BUT_REPORTED if is_reported else _VERDICTS[answer.standing]
    return Verdict(verdict.look, *translated((verdict.word, verdict.text)))


def _paper(paper: Paper) -> PaperShown:
    title = gettext(paper.title)
    return PaperShown(
        title=title[:1].upper() + title[1:],
        number=paper.number,
        issued=day_told(localdate(paper.issued_at)),
        ended=told(paper.ended_text) if paper.ended_text else "",
        is_in_force=paper.is_in_force,
        is_evaluation=paper.is_evaluation,
    )


def _grouped(loads: Sequence[Load]) -> Iterator[LoadsShown]:
    """Put loads of one quantity under one heading, the words common to all of them once."""
    for text in dict.fromkeys(load.quantity for load in loads):
        own = [load for load in loads if load.quantity == text]
        sentences = [load_sentences(load.words) for load in own]
        shared = [
            one for one in sentences[0][1:] if all(one in other[1:] for other in sentences[1:])
        ]
        quantity = load_quantity(text)
        yield LoadsShown(
            quantity=told(quantity),
            is_limit=isinstance(quantity, Said) and quantity.startswith("Working load limit"),
            loads=tuple(
                LoadShown(
                    value=load.value,
                    first=told(first) if (first := said[0]) else SafeString(),
                    rest=tuple(told(one) for one in said[1:] if one not in shared),
                )
                for load, said in zip(own, sentences, strict=True)
            ),
            notes=tuple(map(told, shared)),
        )
