"""Writes the README.txt of an auditor's bundle: what each file is, and how to check them all."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from textwrap import fill
from typing import Final

_WIDTH: Final = 96


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What stands at the beginning of a bundle.

    `about` says what was asked, `known` as of when; `house` who keeps the record, `by` who took
    it. `gaps` are sentences on what is not in it.
    """

    about: str
    known: str
    house: str
    by: str
    made_at: datetime
    gaps: Sequence[str]


def readme_text(cover: Cover, *, files: Iterable[tuple[str, str]], verifier: str) -> str:
    """Write the text.

    Args:
        files: the place of each file, and what it is.
        verifier: the place of the stand-alone verifier.
    """
    listed = [*files]
    parts = [
        f"RECORD BUNDLE: {cover.about}",
        _paragraphs(
            cover.known,
            f"Taken on {cover.made_at:%Y-%m-%d at %H:%M} UTC from the record of {cover.house}"
            f" by {cover.by}.",
            "Begin with report.pdf: it tells the whole story; the other files are its evidence.",
        ),
        _part("HOW TO CHECK IT, WITHOUT US AND OFFLINE", *_how_to_check(verifier)),
        _part("WHAT IS NOT IN IT", *(cover.gaps or ("Nothing that the record holds of it.",))),
        _part("CAUTIONS", *_CAUTIONS),
        "FILES\n\n" + "\n".join(f"{path}\n    {what}" for path, what in listed),
    ]
    return "\n\n\n".join(parts) + "\n"


_CAUTIONS: Final = (
    (
        "A rope that fails can kill. This bundle is a record; it inspects nothing, and replaces"
        " neither local law and codes nor the judgement of a competent person."
    ),
    (
        "A breaking force is not a load that a rope may carry. A certificate speaks of the item as"
        " delivered, on the date of its test."
    ),
    "It names people and firms: keep it as such papers are to be kept.",
)


def _how_to_check(verifier: str) -> tuple[str, ...]:
    return (
        (
            f"1. Run beside the archive, once {verifier} is taken out of it:  python3 {verifier}"
            " ARCHIVE.zip  It needs Python 3.9 or later and nothing else. It says of every file"
            " what holds, what fails, and what cannot be said."
        ),
        (
            "2. It holds every file against MANIFEST.json, papers and their data against their"
            " signatures, and journal entries against the signed checkpoint (RFC 6962, C2SP)."
        ),
        (
            "3. The public keys in keys/ came by the same way as what they prove. Compare their"
            " names with those that the house publishes, or that you kept from an earlier visit."
        ),
        (
            "4. Keep journal/checkpoint.txt. Whoever holds a checkpoint can prove later that no"
            " entry before it was changed, taken out or put in."
        ),
        (
            "5. That the house gave this bundle out, and the SHA-256 of its MANIFEST.json, is"
            " itself an entry of its journal."
        ),
        "6. Whether a certificate is still in force is told only by the house: scan its code.",
    )


def _part(heading: str, *paragraphs: str) -> str:
    return f"{heading}\n\n{_paragraphs(*paragraphs)}"


def _paragraphs(*texts: str) -> str:
    return "\n\n".join(fill(text, _WIDTH, break_on_hyphens=False) for text in texts)
