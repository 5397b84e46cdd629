"""Which pages are surveyed and pictured, who opens them, and which pictures the README shows.

Every page that the program serves has a row here, or `tests/browser/test_every_page.py` fails.
"""

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
    Shot("tag-unknown", "/t/0000000000000000"),
    Shot("tag-typed", "/t/"),
    Shot("tag-report", "/t/{0}/report/"),
    Shot("check", "/check/"),
    Shot("check-code", "/check/", typed=(("code", "A00000000000000A"),), press="Check it"),
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
        "/reels/receive/?designation=12+7x7+1770+B",
        readme_height=1020,
    ),
    Shot("receiving-check", "/receiving-checks/RC-00020/", readme_height=790),
    Shot("check-reel", "/reels/R-00025/check/"),
    Shot("reel-readings", "/reels/R-00004/readings/"),
    Shot("cut", "/reels/R-00001/cut/"),
    Shot("reel-label", "/reels/R-00001/label/"),
    Shot("bench", "/cutting/"),
    Shot("bench-reel", "/cutting/?reel=R-00001"),
    Shot("scan", "/scan/"),
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
    Shot("reword", "/certificates/CD-00030/wording/"),
    Shot("draft-several", "/certificates/draft/several/"),
    Shot("draft-several-reel", "/certificates/draft/several/?of=R-00001"),
    Shot("issue-several", "/certificates/issue/"),
    Shot("issue-batches", "/certificates/batches/"),
    Shot("issue-batch", "/certificates/batches/IB-00001/"),
    Shot("draft-discard", "/certificates/CD-00030/discard/"),
    Shot("draft-cut-length", "/certificates/draft/cut-length/?taken_from=R-00001"),
    Shot("representatives", "/representatives/"),
    Shot("labels", "/labels/"),
    Shot("letterhead", "/letterhead/"),
    Shot("find-several", "/find/?q=Karnholt"),
    Shot("find-nothing", "/find/?q=nowhere"),
    Shot("trace", "/trace/?code=A-00001", readme_height=1130),
    Shot("recall", "/trace/recall/?code=R-00001&from_mm=70&to_mm=110"),
    Shot("around", "/trace/around/?code=R-00001&metre_mm=150&span_mm=20"),
    Shot("heat-record", "/heats/record/"),
    Shot("mill-document-file", "/mill-documents/file/"),
    Shot("party-register", "/parties/register/"),
    Shot("party-language", "/parties/C-00001/language/"),
    Shot("move", "/reels/R-00001/move/"),
    Shot("reverse-cut", "/pieces/P-00140/reverse/"),
    Shot("take-back", "/pieces/P-00140/take-back/"),
    Shot("order-place", "/orders/place/"),
    Shot("fittings-receive", "/fittings/receive/"),
    Shot("delivery", "/deliveries/V-00010/"),
    Shot("deliver", "/deliveries/record/"),
    Shot("place-hold", "/holds/place/R-00001/"),
    Shot("release-hold", "/holds/X-00001/release/"),
    Shot("hold-recall", "/holds/X-00005/recall/"),
    Shot("write-letters", "/holds/X-00005/recall/letters/"),
    Shot("recall-sent", "/recall-notices/RN-00001/sent/"),
    Shot("recall-notices", "/recall-notices/"),
    Shot("recall-notice", "/recall-notices/RN-00001/"),
    Shot("recall-answer", "/recall-notices/RN-00001/answer/"),
    Shot("machine-register", "/testing-machines/register/"),
    Shot("calibrate", "/testing-machines/T-00001/calibrate/"),
    Shot("table", "/tables/breaking-force-factors/"),
    Shot("agreed-add", "/tables/agreed/add/"),
    Shot("record-breaking", "/tests/breaking/record/"),
    Shot("reverse-test", "/tests/PT-00004/reverse/"),
    Shot("choose-rule", "/decision-rules/choose/"),
    Shot("affected", "/certificates/stating-too-much/"),
    Shot("correct", "/certificates/AT-2026-00001/correct/"),
    Shot("withdraw", "/certificates/AT-2026-00001/withdraw/"),
    Shot("draft-assembly", "/certificates/draft/assembly/?assembly=A-00020"),
    Shot("draft-breaking", "/certificates/draft/breaking/"),
    Shot("certificate-superseded", "/certificates/CL-2026-00014/"),
    Shot("revoke-tag", "/labels/{0}/revoke/"),
    Shot("journal", "/journal/"),
    Shot("journal-entry", "/journal/1/"),
    Shot("trace-piece", "/trace/?code=P-00140"),
    Shot("trace-heat", "/trace/?code=H-00001"),
    Shot("trace-past", "/trace/?code=A-00001&on=2026-07-20"),
    Shot("trace-nothing", "/trace/?code=R-99999"),
    Shot("bundle", "/trace/bundle/?code=A-00001"),
    Shot("reports", "/reports/"),
    Shot("report", "/reports/SR-00001/"),
    Shot("report-hold", "/reports/SR-00001/hold/"),
    Shot("report-close", "/reports/SR-00001/close/"),
    Shot("report-forget", "/reports/SR-00001/forget-contact/"),
    Shot("account", "/account/"),
    Shot("reading", "/account/reading/"),
    Shot("own-second-step", "/account/second-step/"),
    Shot("not-found", "/reels/R-99999/"),
)

BY_ADMINISTRATOR = (
    Shot("today-admin", "/"),
    Shot("people", "/people/"),
    Shot("person", "/people/stores/"),
    Shot("person-register", "/people/register/"),
    Shot("person-role", "/people/stores/role/"),
    Shot("person-pass-phrase", "/people/stores/pass-phrase/"),
    Shot("person-second-step", "/people/stores/second-step/"),
    Shot("person-close", "/people/stores/close/"),
    Shot("person-open", "/people/stores/open/"),
    Shot("representative-add", "/representatives/add/"),
    Shot("representative-end", "/representatives/1/end/"),
    Shot("letterhead-set", "/letterhead/set/"),
)

# Who opens which pages; the demonstration's stranger has no name.
TOURS = {"": PUBLIC, "qa": SIGNED_IN, "admin": BY_ADMINISTRATOR}

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
