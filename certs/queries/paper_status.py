"""Tells what the record says now of an issued paper, as whoever scans its code is told.

What has ended is told with every doubt beside it: a paper that was withdrawn may be held as well.
"""

from certs.models import Certificate, Tag
from certs.queries.papers import Paper
from certs.queries.tag_status import Standing, tag_answer
from certs.rules.paper_advice import Now, State
from certs.rules.paper_check import PaperCheck, Topic, fails, holds

_ENDED = {
    Certificate.State.SUPERSEDED.value: State.SUPERSEDED,
    Certificate.State.WITHDRAWN.value: State.WITHDRAWN,
}


def paper_status(certificate: Certificate, tag: Tag) -> tuple[PaperCheck, Now]:
    """Check that a paper is in force and that nothing on record speaks against it today."""
    answer = tag_answer(tag.code)
    if answer is None:
        text = "Its code leads to nothing on record."
        return fails(Topic.STATUS, text), Now(State.IN_DOUBT)
    if answer.standing is Standing.GOOD:
        text = "In force, and nothing on record speaks against it today."
        if answer.doubts:
            text = f"In force. {' '.join(answer.doubts)}"
        return holds(Topic.STATUS, text), Now(State.IN_FORCE)
    paper = Paper.of(certificate)
    reasons = dict.fromkeys([paper.ended_text, *answer.reasons])
    meaning = " ".join(filter(None, map(_sentence, reasons)))
    state = _ENDED.get(paper.state, State.IN_DOUBT)
    if state is State.SUPERSEDED and answer.standing is Standing.DO_NOT_USE:
        state = State.IN_DOUBT
    return fails(Topic.STATUS, meaning), Now(state, paper.replaced_by)


def _sentence(text: str) -> str:
    """End a text that somebody typed."""
    return text if not text or text.endswith((".", "!", "?")) else f"{text}."
