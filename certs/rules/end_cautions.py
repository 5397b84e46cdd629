"""The cautions that go with each kind of end, in our own words.

Where an end may not be used at all is decided by `termination`; cautions of whole assemblies are
in `cautions`. Sources are named in comments, with how well each is known.
"""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from certs.rules.termination import TerminationKind

CAUTIONS: Final[Mapping[TerminationKind, tuple[str, ...]]] = MappingProxyType(
    {
        # 29 CFR 1918 Appendix II and WAC 296-155-33915, read.
        TerminationKind.U_BOLT_GRIPS: (
            (
                "U-bolt grips: the saddle on the live rope, the U-bolt on the dead end, and all the"
                " same way round. Load to at least the load expected, then tighten again, and look"
                " again after the first loading."
            ),
        ),
        # WAC and a trade journal, read; the scope of EN 13411-6, read.
        TerminationKind.WEDGE_SOCKET: (
            (
                "Wedge socket: the live rope in line with the pin; the dead end never clamped to"
                " the live rope; no parts of different makes together. It is rated as the"
                " asymmetric one of EN 13411-6, which leaves fatigue out; the symmetric one of"
                " EN 13411-7 is for lift ropes only."
            ),
        ),
        # EN 13411-8:2011 scope, read.
        TerminationKind.SWAGE_TERMINAL: (
            (
                "Swage terminal: not on full-locked or covered ropes, and no anchor on a drum"
                " (EN 13411-8)."
            ),
        ),
        # EN 13411-4:2022, Annex E, named in what was read; its figures were not.
        TerminationKind.SOCKET: (
            (
                "Metal or resin socket: its limits of temperature stand in EN 13411-4, Annex E; no"
                " value is held here, so ask the maker of the socketing medium."
            ),
        ),
        # ASME B30.9 as cited on a US national-laboratory test form, read.
        TerminationKind.HAND_SPLICE: (
            "Hand splice: never prove it above 1.25 times its rated load.",
        ),
    }
)


def cautions_of_ends(kinds: Iterable[TerminationKind]) -> tuple[str, ...]:
    """Give the cautions of the kinds of ends, each once, in the order of the glossary."""
    fitted = frozenset(kinds)
    return tuple(
        caution for kind in TerminationKind if kind in fitted for caution in CAUTIONS.get(kind, ())
    )
