"""The shapes of a trace and of a recall as JSON: lengths in mm, forces in N, moments in ISO 8601.

"" stands for a code that there is none of. `certs.queries.trace` fills them in.
"""

from typing import TypedDict

from certs.queries.trace_back_shapes import LotRow, Point, RopeBack


class Asked(TypedDict):
    """What was asked about; `asked_as` is the code given where it led to another thing."""

    kind: str
    code: str
    text: str
    asked_as: str
    from_mm: int | None
    to_mm: int | None


class PieceRow(TypedDict):
    """A piece reached; `touched` are the metres [from, to] of the asked reel that reached it."""

    code: str
    purpose: str
    reel: str
    from_mm: int
    to_mm: int
    asked_reel: str
    asked_from_mm: int
    asked_to_mm: int
    touched: list[list[int]]
    depth: int
    through: str
    wound_reel: str
    assembly: str
    delivery: str
    customer: str


class ReelRow(TypedDict):
    """A reel reached; `touched` are its own metres [from, to] that were asked about."""

    code: str
    origin: str
    depth: int
    touched: list[list[int]]
    asked_reel: str
    asked_from_mm: int
    asked_to_mm: int
    wound_from: str


class AssemblyRow(TypedDict):
    """An assembly reached."""

    code: str
    delivery: str


class DeliveryRow(TypedDict):
    """A delivery of anything reached."""

    code: str
    delivered_at: str
    customer: str


class CustomerRow(TypedDict):
    """A customer who was delivered to, or whose name stands on a certificate."""

    code: str
    name: str
    deliveries: list[str]
    certificates: list[str]


class CertificateRow(TypedDict):
    """A certificate that speaks of anything reached; `pieces` are the reached ones it rests on."""

    number: str
    draft_code: str
    kind: str
    document_kind: str
    state: str
    issued_at: str
    ended_at: str
    end_reason: str
    replaces: str
    customer: str
    customer_name: str
    assembly: str
    breaking_test: str
    pieces: list[str]
    pdf_sha256: str


class TagRow(TypedDict):
    """A tag on anything reached; `on` is piece, assembly or certificate."""

    code: str
    on: str
    thing: str
    issued_at: str
    revoked_at: str


class BreakingRow(TypedDict):
    """A breaking-force test; `reversed_at` is "" while it counts."""

    code: str
    sample: str
    machine: str
    tested_at: str
    required_n: int
    peak_n: int
    outcome: str
    reversed_at: str


class ProofRow(TypedDict):
    """A proof-load test; `reversed_at` is "" while it counts."""

    code: str
    assembly: str
    machine: str
    tested_at: str
    required_n: int
    peak_n: int
    outcome: str
    reversed_at: str


class WireRow(TypedDict):
    """A test of wires; `calculated_n` is None where no force was calculated.

    `sample` is "" for wires tested before laying, `reversed_at` while the test counts.
    """

    code: str
    reel: str
    sample: str
    method: int
    tested_at: str
    required_n: int
    calculated_n: int | None
    outcome: str
    grade_outcome: str
    reversed_at: str


class HoldRow(TypedDict):
    """A standing hold: it `reaches` what was "asked" about, or stands on a "part" made of it."""

    code: str
    on: str
    subject: str
    from_mm: int | None
    to_mm: int | None
    reason: str
    placed_at: str
    reaches: str


class Downstream(TypedDict):
    """All that was made of what was asked about, and all that is claimed of it."""

    pieces: list[PieceRow]
    reels: list[ReelRow]
    assemblies: list[AssemblyRow]
    made_lots: list[LotRow]
    deliveries: list[DeliveryRow]
    customers: list[CustomerRow]
    certificates: list[CertificateRow]
    tags: list[TagRow]
    breaking_tests: list[BreakingRow]
    proof_tests: list[ProofRow]
    holds: list[HoldRow]


class Story(Downstream):
    """The whole story of a thing, back and forward."""

    asked: Asked
    back: list[RopeBack]
    fitting_lots: list[LotRow]
    rope_tests: list[BreakingRow]
    wire_tests: list[WireRow]
    point: Point | None


class Counts(TypedDict):
    """How much a recall reaches."""

    pieces: int
    delivered_pieces: int
    assemblies: int
    customers: int
    certificates_in_force: int


class Recall(Downstream):
    """All that a suspect heat, stretch of rope or fitting lot reaches."""

    asked: Asked
    counts: Counts
