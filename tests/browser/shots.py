"""Which pages are pictured, and which pictures the README shows."""

from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent.parent.parent / "fixtures" / "pictures"


@dataclass(frozen=True, slots=True)
class Shot:
    """A page; {0} is the tag that is good, {1} the one that is not.

    What is `typed` into its fields stands there when `press` is pressed. `readme_height` is how
    much of the page the README shows, from the top or from the heading `readme_from` on.
    """

    name: str
    path: str
    readme_size: str = "desk"
    readme_height: int = 900
    readme_from: str = ""
    typed: tuple[tuple[str, str], ...] = ()
    press: str = ""


PUBLIC = (
    Shot("tag-good", "/t/{0}", readme_size="phone"),
    Shot("tag-stop", "/t/{1}", readme_size="phone"),
    Shot("sign-in", "/sign-in/"),
)

SIGNED_IN = (
    Shot("today", "/"),
    Shot("reels", "/reels/"),
    Shot("reel", "/reels/R-00001/"),
    Shot("reel-held", "/reels/R-00020/"),
    Shot("reel-rewound", "/reels/R-00016/"),
    Shot(
        "receive",
        "/reels/receive/",
        readme_height=930,
        typed=(("designation", "12 7x7 1770 B"), ("mill_reel_number", "K-2500")),
        press="Read it back",
    ),
    Shot("receiving-check", "/receiving-checks/RC-00020/", readme_height=790),
    Shot("check-reel", "/reels/R-00025/check/"),
    Shot("reel-readings", "/reels/R-00004/readings/"),
    Shot("cut", "/reels/R-00001/cut/"),
    Shot("rewind", "/reels/R-00001/rewind/"),
    Shot("piece", "/pieces/P-00140/"),
    Shot("heats", "/heats/"),
    Shot("heat", "/heats/H-00001/"),
    Shot("mill-documents", "/mill-documents/"),
    Shot("mill-document", "/mill-documents/D-00001/"),
    Shot("parties", "/parties/"),
    Shot("orders", "/orders/"),
    Shot("order", "/orders/O-00001/"),
    Shot("cutting-proposal", "/orders/O-00034/cutting/", readme_height=966),
    Shot("fittings", "/fittings/"),
    Shot("fitting", "/fittings/F-00001/"),
    Shot("assemblies", "/assemblies/"),
    Shot("assembly", "/assemblies/A-00001/"),
    Shot("build", "/assemblies/build/"),
    Shot("assembly-strength", "/assemblies/A-00001/strength/"),
    Shot("deliveries", "/deliveries/"),
    Shot("holds", "/holds/"),
    Shot("hold", "/holds/X-00003/"),
    Shot("machines", "/testing-machines/"),
    Shot("machine", "/testing-machines/T-00001/"),
    Shot("tables", "/tables/"),
    Shot("reel-strength", "/reels/R-00003/strength/"),
    Shot("tests", "/tests/"),
    Shot("proof-tests", "/tests/proof/"),
    Shot("proof-test", "/tests/proof/PT-00001/", readme_height=1060),
    Shot("proof-test-failed", "/tests/proof/PT-00004/"),
    Shot(
        "breaking-test",
        "/tests/breaking/BT-00006/",
        readme_from="Loading",
        readme_height=1150,
    ),
    Shot("wire-tests", "/tests/wires/"),
    Shot("wire-test", "/tests/wires/WT-00001/"),
    Shot("record-wires", "/tests/wires/record/"),
    Shot("force-to-show", "/tests/proof/force/?assembly=A-00020"),
    Shot("decision-rules", "/decision-rules/"),
    Shot("what-if", "/decision-rules/what-if/"),
    Shot("makers", "/makers/"),
    Shot("maker-record", "/makers/M-00001/8%206x19S-IWRC%201770%20B%20sZ/", readme_height=1110),
    Shot("record-proof", "/tests/proof/record/?assembly=A-00020"),
    Shot("certificates", "/certificates/"),
    Shot("certificate", "/certificates/AT-2026-00001/"),
    Shot("draft", "/certificates/CD-00030/"),
    Shot("draft-cut-length", "/certificates/draft/cut-length/?taken_from=R-00001"),
    Shot("representatives", "/representatives/"),
    Shot("labels", "/labels/"),
    Shot("trace", "/trace/?code=A-00001", readme_height=1130),
    Shot("recall", "/trace/recall/?code=R-00001&from_mm=70&to_mm=110"),
    Shot("around", "/trace/around/?code=R-00001&metre_mm=150&span_mm=20"),
)

README = {
    name: FOLDER / f"{name}.png"
    for name in (
        "today",
        "reel",
        "receive",
        "receiving-check",
        "cutting-proposal",
        "proof-test",
        "breaking-test",
        "maker-record",
        "certificate-paper",
        "tag-good",
        "trace",
        "recall",
    )
}
