"""Reading a rope designation: the order of EN 12385-2, the trade's shorthands, the American words.

What is not stated is either assumed and named so, or refused; a grade and the core of a stranded
rope are never assumed. What a designation may consist of is said in `rope_designation`.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from inventory.rules import units
from inventory.rules.rope_designation import (
    CONSTRUCTION,
    CORES,
    FINISHES,
    LAY_WORDS,
    METRIC_GRADE,
    TRADE_NAMES,
    US_GRADES,
    DesignationError,
    RopeDesignation,
    canonical_diameter,
)

__all__ = ["DesignationError", "RopeDesignation", "parse_american", "parse_designation"]

_ORDER: Final = "diameter, construction, core, grade, finish, lay; such as 12 6x7-FC 1770 U sZ"
_MAX_CHARACTERS: Final = 120

_TIMES: Final = re.compile(
    "[\N{MULTIPLICATION SIGN}\N{MULTIPLICATION X}\N{HEAVY MULTIPLICATION X}]"
)
_DASHES: Final = re.compile("[\N{HYPHEN}-\N{EM DASH}\N{MINUS SIGN}]")

_SIZE: Final = re.compile(
    r"(?P<number>(?:[0-9]+[ -])?[0-9]+/[0-9]+|[0-9]*[.,]?[0-9]+)"
    r' ?(?P<unit>MM|INCH(?:ES)?|IN|")?(?: |$)'
)
_BUILD: Final = re.compile(
    r"(?P<strands>[0-9]{1,3})(?P<layers>\(W\))? ?X ?(?P<wires>K?[0-9]{1,4})"
    r"(?P<kind> ?[FMNSW]{1,4}(?![A-Z0-9(])|FC(?= ?[-+]))?"
)
_CORE: Final = re.compile(r"(?P<mark> ?[-+] ?| )(?P<core>[^ ]+)(?= |$)")
_MEGAPASCALS: Final = re.compile(r"(?<=[0-9]) ?(?:N/MM(?:2|²|\^2)|MPA)(?= |$)")

_LENGTH: Final = re.compile(
    r"(?P<length>[0-9][0-9.,]* ?(?:FT|FEET|FOOT|'|M|MET(?:ER|RE)S?))(?: |$)"
)
_AMERICAN_KINDS: Final[Mapping[str, str]] = MappingProxyType(
    {"FILLER WIRE": "F", "FW": "F", "WARRINGTON SEALE": "WS", "SEALE": "S", "WARRINGTON": "W"}
)
_AMERICAN_LAYS: Final[Mapping[str, str]] = MappingProxyType(
    {"RRL": "sZ", "LRL": "zS", "RLL": "zZ", "LLL": "sS", "RAL": "aZ", "LAL": "aS"}
)
_LAY_PHRASE: Final = re.compile(r"(?:RIGHT|LEFT) (?:REGULAR|LANG|ALTERNATE) LAY")
_UNCLASSED_ZINC: Final = re.compile(r"GALV[A-Z]*")
_PREFORMED: Final = ("PREFORMED", "PRF")


def parse_designation(text: str) -> RopeDesignation:
    """Read a designation in the order of EN 12385-2, such as "22 6x36WS-IWRC 1770 B sZ".

    Case, a multiplication sign and "mm" do not matter; the shorthands 7x7 and 7x19 are written
    out. A missing finish is assumed to be U, a missing lay sZ (Z for a spiral strand). Raises
    `DesignationError` naming the part that was not understood.
    """
    number, unit, rest = _take_size(_tidy(text))
    construction, rest = _take_construction(rest)
    core, rest = _take_core(rest)
    construction, core, assumed = _written_out(construction, core)
    words = _MEGAPASCALS.sub("", rest).split()
    grade = _take(words, _as_grade)
    if not grade:
        found = f"“{words[0]}” is no grade" if words else "The grade is missing"
        message = f"{found}; after the core write one such as 1770 or IPS. It is never assumed."
        raise DesignationError(message)
    finish, lay = _take(words, _as_finish), _take(words, _as_lay)
    if words:
        message = f"“{' '.join(words)}” was not understood; the order is {_ORDER}."
        raise DesignationError(message)
    return _with_defaults((number, unit, construction, core, grade), finish, lay, assumed)


def parse_american(text: str) -> tuple[int | None, RopeDesignation]:
    """Read the American word form, "600 ft 3/4 in 6x25 FW preformed RRL XIPS IWRC".

    Returns the length in mm, None when none is written, and the designation. Right regular lay,
    bright and preformed are assumed where not stated. Raises `DesignationError`, also for zinc
    without its class and for rope said not to be preformed, which a designation cannot tell;
    `Refusal` for the length.
    """
    rest = _tidy(text)
    length_mm = None
    if match := _LENGTH.match(rest):
        length_mm = units.parse_length_mm(match["length"])
        rest = rest[match.end() :]
    number, unit, rest = _take_size(rest, unit_of_fraction="in")
    for words, kind in _AMERICAN_KINDS.items():
        rest = re.sub(rf"(?<=[0-9 ]){words}(?= |$)", kind, rest)
    construction, rest = _take_construction(rest)
    construction, stated_core, assumed = _written_out(construction, "")
    found = _sort_words(_LAY_PHRASE.sub(_initials, rest).split())
    if stated_core and found.get("core", stated_core) != stated_core:
        _refuse_other_core(construction, found["core"])
    if "core" in found:
        assumed -= {"core"}
    if "preforming" not in found:
        assumed |= {"preforming"}
    if "grade" not in found:
        message = "The grade is missing; write one such as IPS or 1770. It is never assumed."
        raise DesignationError(message)
    size_to_grade = (number, unit, construction, found.get("core", stated_core), found["grade"])
    return length_mm, _with_defaults(
        size_to_grade, found.get("finish", ""), found.get("lay", ""), assumed
    )


def _tidy(text: str) -> str:
    if len(text) > _MAX_CHARACTERS:
        message = f"This is too long for a designation; the order is {_ORDER}."
        raise DesignationError(message)
    upper = _DASHES.sub("-", _TIMES.sub("X", text.upper()))
    return " ".join(upper.replace("\N{DOUBLE PRIME}", '"').split())


def _take_size(text: str, *, unit_of_fraction: str = "") -> tuple[str, str, str]:
    match = _SIZE.match(text)
    if match is None:
        message = f"The diameter was not understood; the order is {_ORDER}."
        raise DesignationError(message)
    number, written = match["number"], match["unit"]
    if written is None and "/" in number and not unit_of_fraction:
        message = f"“{number}” does not say whether it is in or mm; write “{number} in”."
        raise DesignationError(message)
    if written is None:
        unit = unit_of_fraction if "/" in number else "mm"
    else:
        unit = "mm" if written == "MM" else "in"
    return canonical_diameter(number, unit), unit, text[match.end() :]


def _take_construction(text: str) -> tuple[str, str]:
    match = _BUILD.match(text)
    if match is not None:
        layers, kind = match["layers"] or "", (match["kind"] or "").strip()
        construction = f"{match['strands']}{layers}x{match['wires']}{kind}"
        if CONSTRUCTION.fullmatch(construction):
            return construction, text[match.end() :]
    first_word = text.partition(" ")[0]
    found = f"“{first_word}” is no construction" if text else "The construction is missing"
    message = f"{found}; after the diameter write strands x wires, such as 6x36WS or 1x19."
    raise DesignationError(message)


def _take_core(text: str) -> tuple[str, str]:
    match = _CORE.match(text)
    # After a hyphen or plus it must be a core; after a mere space it may be the grade.
    if match is None or (match["mark"] == " " and match["core"] not in CORES):
        return "", text
    return match["core"], text[match.end() :]


def _written_out(construction: str, core: str) -> tuple[str, str, frozenset[str]]:
    """Replace a trade shorthand by what it stands for, and say what was thereby assumed."""
    for (full, its_core), trade_name in TRADE_NAMES.items():
        if trade_name == construction:
            if core not in {"", its_core}:
                _refuse_other_core(full, core)
            assumed = {"construction"} if full.partition("x")[2] != trade_name[2:] else set()
            return full, its_core, frozenset(assumed if core else assumed | {"core"})
    return construction, core, frozenset()


def _refuse_other_core(construction: str, core: str) -> None:
    message = (
        f"The shorthand means {construction} round a wire strand core;"
        f" for another core write {construction}-{core}."
    )
    raise DesignationError(message)


def _with_defaults(
    size_to_grade: tuple[str, str, str, str, str], finish: str, lay: str, assumed: frozenset[str]
) -> RopeDesignation:
    if not finish:
        assumed |= {"finish"}
    if not lay:
        assumed |= {"lay"}
    usual_lay = "Z" if size_to_grade[2].startswith("1x") else "sZ"
    return RopeDesignation(*size_to_grade, finish or "U", lay or usual_lay, assumed)


def _take(words: list[str], read: Callable[[str], str]) -> str:
    """Take the first word away if it can be read as this part; return the part or nothing."""
    part = read(words[0]) if words else ""
    if part:
        del words[0]
    return part


def _as_grade(word: str) -> str:
    return word if METRIC_GRADE.fullmatch(word) or word in US_GRADES else ""


def _as_finish(word: str) -> str:
    return next((finish for finish in FINISHES if finish.upper() == word), "")


def _as_lay(word: str) -> str:
    return next((lay for lay in LAY_WORDS if lay.upper() == word), "")


def _initials(match: re.Match[str]) -> str:
    return "".join(word[0] for word in match[0].split())


def _sort_words(words: Sequence[str]) -> dict[str, str]:
    """Return the parts named by the words that follow an American construction, in any order."""
    found: dict[str, str] = {}
    for word in words:
        part, value = _sort_word(word)
        if part in found:
            message = f"“{word}” gives the {part} a second time."
            raise DesignationError(message)
        found[part] = value
    return found


def _sort_word(word: str) -> tuple[str, str]:
    readings = {
        "preforming": word if word in _PREFORMED else "",
        "lay": _AMERICAN_LAYS.get(word, ""),
        "grade": _as_grade(word),
        "core": word if word in CORES else "",
        "finish": "U" if word == "BRIGHT" else _as_finish(word),
    }
    for part, value in readings.items():
        if value:
            return part, value
    if _UNCLASSED_ZINC.fullmatch(word):
        message = f"“{word}” does not give the class of zinc; write A, AB or B."
    else:
        message = f"“{word}” was not understood; write preforming, lay, grade and core, such as"
        message += " preformed RRL XIPS IWRC."
    raise DesignationError(message)
