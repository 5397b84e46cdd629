"""Writes a story or a recall as plain text for a terminal: what there is, one line each."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from certs.queries.trace_back_shapes import HeatBack, Point, RopeBack
from certs.queries.trace_shapes import (
    CertificateRow,
    Counts,
    CustomerRow,
    Downstream,
    HoldRow,
    PieceRow,
    Recall,
    Story,
)
from inventory.rules.units import format_kn, format_metres


def story_text(story: Story) -> str:
    """Write where a thing came from, what was made of it, and what is claimed."""
    asked = story["asked"]
    led = f" (asked as {asked['asked_as']})" if asked["asked_as"] else ""
    parts = [
        f"{asked['kind']} {asked['code']}{led}: {asked['text']}",
        *(_section("Came from", _back(rope)) for rope in story["back"]),
        _section("Fittings", (f"{one['code']}  {one['description']}" for one in _lots(story))),
        _section("At that point", _point(story["point"]) if story["point"] else ()),
        _section("Breaking-force tests on this rope", map(_test, story["rope_tests"])),
        _section("Wire tests on this rope", map(_wires, story["wire_tests"])),
        *_below(story),
    ]
    return "\n\n".join(part for part in parts if part)


def recall_text(recall: Recall) -> str:
    """Write what a suspect heat, stretch or lot reaches."""
    asked = recall["asked"]
    where = _stretch(asked["from_mm"], asked["to_mm"])
    parts = [
        f"{asked['kind']} {asked['code']}{where}: {asked['text']}",
        _counted(recall["counts"]),
        *_below(recall),
    ]
    return "\n\n".join(part for part in parts if part)


def _counted(counts: Counts) -> str:
    in_force = counts["certificates_in_force"]
    return (
        f"{_number(counts['pieces'], 'piece', 'pieces')},"
        f" {counts['delivered_pieces']} of them delivered;"
        f" {_number(counts['assemblies'], 'assembly', 'assemblies')};"
        f" {_number(counts['customers'], 'customer', 'customers')};"
        f" {_number(in_force, 'certificate', 'certificates')} in force"
    )


def _number(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"


def _below(found: Downstream) -> Iterator[str]:
    yield _section("Customers", map(_customer, found["customers"]))
    yield _section("Holds", map(_hold, found["holds"]))
    yield _section("Reels", (_reel(one) for one in found["reels"]))
    yield _section("Pieces", map(_piece, found["pieces"]))
    yield _section("Assemblies", (_with(one, "delivery") for one in found["assemblies"]))
    yield _section("Fitting lots made of it", (one["code"] for one in found["made_lots"]))
    yield _section("Certificates", map(_certificate, found["certificates"]))
    yield _section("Breaking-force tests", map(_test, found["breaking_tests"]))
    yield _section("Proof-load tests", map(_test, found["proof_tests"]))
    yield _section("Tags", map(_tag, found["tags"]))


def _section(heading: str, lines: Iterable[str]) -> str:
    told = [f"  {line}" for line in lines]
    return "\n".join((heading, *told)) if told else ""


def _lots(story: Story) -> Sequence[Mapping[str, Any]]:
    return story["fitting_lots"]


def _back(rope: RopeBack) -> Iterator[str]:
    if rope["piece"]:
        yield f"piece {rope['piece']}"
    for reel in rope["reels"]:
        wound = f", wound from {reel['wound_from']}" if reel["wound_from"] else ", from the mill"
        yield f"reel {reel['code']}{_stretch(reel['from_mm'], reel['to_mm'])}{wound}"
    yield from map(_heat, rope["heats"])
    for paper in rope["mill_documents"]:
        yield f"{paper['code']}  {paper['kind']} {paper['number']}, {paper['issued_date']}"


def _heat(heat: HeatBack) -> str:
    where = _stretch(heat["from_mm"], heat["to_mm"])
    return f"heat {heat['number']} ({heat['code']}) of {heat['mill_name']}: {heat['reel']}{where}"


def _point(point: Point) -> Iterator[str]:
    for on in point["on_reels"]:
        yield f"metre {format_metres(on['metre_mm'])} of reel {on['reel']}"
    yield from map(_heat, point["heats"])
    for one in point["around"]:
        yield f"{format_metres(one['distance_mm'])} away: {one['piece']}{_whereabouts(one)}"


def _piece(piece: PieceRow) -> str:
    where = _stretch(piece["from_mm"], piece["to_mm"])
    return f"{piece['code']}  {piece['purpose']}, {piece['reel']}{where}{_whereabouts(piece)}"


def _whereabouts(row: Mapping[str, Any]) -> str:
    named = (f"{word} {row[word]}" for word in ("assembly", "delivery", "customer") if row[word])
    return "".join(f", {one}" for one in named)


def _reel(reel: Mapping[str, Any]) -> str:
    parts = "; ".join(_stretch(*pair).strip() for pair in reel["touched"])
    return f"{reel['code']}  {reel['origin']}, {parts}"


def _customer(customer: CustomerRow) -> str:
    named = ", ".join((*customer["deliveries"], *customer["certificates"]))
    return f"{customer['code']}  {customer['name']}: {named}"


def _hold(hold: HoldRow) -> str:
    where = _stretch(hold["from_mm"], hold["to_mm"])
    reaches = "reaches it" if hold["reaches"] == "asked" else "on a part"
    return f"{hold['code']}  {hold['subject']}{where}, {reaches}: {hold['reason']}"


def _certificate(paper: CertificateRow) -> str:
    name = paper["number"] or paper["draft_code"]
    customer = f", {paper['customer']}" if paper["customer"] else ""
    return f"{name}  {paper['state']}, {paper['document_kind']}{customer}"


def _test(test: Mapping[str, Any]) -> str:
    forces = f"{format_kn(test['peak_n'])}, {format_kn(test['required_n'])} required"
    taken_back = ", reversed" if test.get("reversed_at") else ""
    return f"{test['code']}  {test['outcome']}: {forces}{taken_back}"


def _wires(test: Mapping[str, Any]) -> str:
    calculated_n = test["calculated_n"]
    force = "no force" if calculated_n is None else f"{format_kn(calculated_n)} calculated"
    taken_back = ", reversed" if test["reversed_at"] else ""
    required = f"{format_kn(test['required_n'])} required"
    return f"{test['code']}  {test['outcome']}: {force}, {required}{taken_back}"


def _tag(tag: Mapping[str, Any]) -> str:
    return f"{tag['code']}  {tag['on']} {tag['thing']}{', revoked' if tag['revoked_at'] else ''}"


def _with(row: Mapping[str, Any], name: str) -> str:
    return f"{row['code']}{f', {name} {row[name]}' if row[name] else ''}"


def _stretch(from_mm: int | None, to_mm: int | None) -> str:
    if from_mm is None or to_mm is None:
        return ""
    return f" {format_metres(from_mm)} to {format_metres(to_mm)}"
