"""The cautions that go with every paper and tag, and what a paper states and does not.

They are the usual ones of the trade, in our own words; local codes and a competent person go
before them. Sources are named in comments, with how well each is known.
"""

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

LOOK_IT_OVER: Final = (
    "Look the rope over before each use, and have it examined by a competent person at the"
    " intervals that local law sets."
)
# Common practice of every certificate, no source.
GENERAL: Final = (
    (
        "This paper speaks of the item as delivered, on the date of test. It does not speak of its"
        " present condition or of the life that is left in it."
    ),
    (
        "Local law and codes, the maker's instructions and the judgement of a competent person go"
        " before anything printed here."
    ),
    LOOK_IT_OVER,
    "Do not shock-load, knot, weld or shorten the rope; keep it from sharp edges.",
)

# WAC 296-24 and California Title 8 as read: broken wires, wear, distortion, heat, missing tag.
DISCARD: Final = (
    (
        "Take the rope out of use at ten broken wires at random in one lay length, or five in one"
        " strand of one lay length; when a third of an outer wire is worn away; at a kink,"
        " crushing, a bird-cage, heat damage or bad ends; or when the tag is missing. The local"
        " rule may be stricter."
    ),
)

# WAC / California Title 8 as read.
TEMPERATURE: Final = (
    (
        "Fibre core: out of service above 93 °C (200 °F). Steel core: ask the maker above 204 °C"
        " (400 °F) or below −51 °C (−60 °F)."
    ),
)

# Trade summary of EN 13414-1, as read; choker figures read from a US text.
SLING: Final = (
    (
        "Never load above the working load limit. It depends on the angle, the hitch and the bend:"
        " lay a soft eye on a pin at least twice as thick as the rope; a bearing point only one"
        " rope diameter thick about halves the limit."
    ),
    (
        "Choke hitch: of what a choked sling may carry, about all remains when the angle of choke"
        " is above 120°, 87 % between 90° and 120° and 74 % between 60° and 89°; nothing is stated"
        " below 60°."
    ),
    "U-bolt grips have no place on slings (EN 13411-5).",
    (
        "Lifting people, molten metal and other dangerous loads needs a lower rating, set by a"
        " competent person."
    ),
)

# The scope of EN 13411-5, read; the rest common practice, no source.
STATIC: Final = (
    (
        "For static suspension only: nothing is lifted with it, and nobody stands under what it"
        " holds unless a competent person has agreed. It has no working load limit; whoever"
        " designs its use sets what it may hold."
    ),
)

ROPE_ONLY: Final = (
    (
        "The breaking force is that of the rope without terminations. A termination keeps only part"
        " of it. What the rope may carry in use is set by whoever designs the application, with the"
        " coefficient of safety that the law or standard for it asks."
    ),
)


def cautions_for(*, is_sling: bool, is_rope_only: bool, is_static: bool = False) -> tuple[str, ...]:
    """Give the cautions of a paper or tag page, the most particular first."""
    particular: Sequence[str] = SLING if is_sling else ROPE_ONLY if is_rope_only else ()
    static: Sequence[str] = STATIC if is_static else ()
    return (*static, *particular, *GENERAL, *DISCARD, *TEMPERATURE)


def statements_for(*, kind: str, document_kind: str) -> tuple[str, ...]:
    """Say what a paper of this kind states and what it leaves to other papers (EN 10204)."""
    scan = (
        "The code leads to the record: whether this paper is in force is told there, not here."
        " The file as issued is recognised by its SHA-256, which the record holds."
    )
    match kind:
        case "cut_length":
            own: tuple[str, ...] = (
                (
                    "The rope was cut to length and not otherwise processed. The issuer is an"
                    " intermediary (EN 10204:2004, clause 6): the inspection document of the rope"
                    " is"
                    " its maker's, named here and handed on unaltered; only the quantity is that of"
                    " the pieces listed."
                ),
                (
                    "This paper ties each piece to the metres of the reel that it was cut from and"
                    " to"
                    " the heats in them. It is itself no document of type 2.1, 2.2, 3.1 or 3.2."
                ),
            )
        case "assembly":
            own = (
                (
                    "The issuer made this assembly and answers for it; for the rope in it the"
                    " issuer"
                    " is an intermediary and names its maker's document."
                ),
                (
                    f"As a document of type {document_kind} (EN 10204:2004) it covers the assembly,"
                    " not the rope. A proof load shows that the assembly bore that load; the"
                    " breaking"
                    " force stays the value derived here for the rope."
                ),
                "This is no report of a thorough examination.",
            )
        case _:
            own = (
                (
                    "The result relates only to the sample tested. This is no inspection"
                    " certificate"
                    " of the rope (EN 10204)."
                ),
            )
    return (*own, scan)
