"""Who may ask for what: every address of the program, every method it serves, every role.

Written by hand, and not taken from the tables of the rules: it says what the house expects of
them. Each row is method, address as the table of addresses writes it, and who gets through:

    anyone    strangers too, without signing in
    all       every role
    S B Q I A K    stores, test bench, QA officer, inspection representative, auditor, and the
                   administrator, who keeps the accounts

Whoever is signed in and not named is told so (403); a stranger is asked to sign in (to the
sign-in page, or 401). A method without a row is not served (405). A new page or endpoint fails
`tests/test_permissions.py` until it has its rows here.
"""

from types import MappingProxyType

from inventory.rules.roles import Role
from tests.endpoints import Endpoint

TABLE = """
# Pages that a stranger sees: nobody's name is on them.
GET     /.well-known/did.json                                anyone
GET     /.well-known/jwks.json                               anyone
GET     /.well-known/paper-roots.pem                         anyone
GET     /T/<str:text>                                        anyone
GET     /T/worker.js                                         anyone
GET     /check/                                              anyone
POST    /check/                                              anyone
GET     /check/verify_record.py                              anyone
GET     /healthz                                             anyone
GET     /log/checkpoint                                      anyone
GET     /sign-in/                                            anyone
POST    /sign-in/                                            anyone
GET     /sign-in/second-step/                                anyone
POST    /sign-in/second-step/                                anyone
GET     /sign-in/set-up/                                     anyone
POST    /sign-in/set-up/                                     anyone
POST    /sign-out/                                           anyone
GET     /t/                                                  anyone
GET     /t/<str:text>                                        anyone
GET     /t/<str:text>/paper/<str:number>.pdf                 anyone
GET     /t/<str:text>/report/                                anyone
POST    /t/<str:text>/report/                                anyone
GET     /t/<str:text>/report/<str:code>/                     anyone
GET     /t/worker.js                                         anyone

# Pages of the house.
GET     /                                                    all
GET     /REELS/<str:code>                                    all
GET     /account/                                            all
POST    /account/                                            all
GET     /account/reading/                                    all
POST    /account/reading/                                    all
POST    /account/recovery-codes/                             all
GET     /account/second-step/                                all
POST    /account/second-step/                                all
GET     /assemblies/                                         all
GET     /assemblies/<str:code>/                              all
GET     /assemblies/<str:code>/strength/                     all
GET     /assemblies/build/                                   S B Q
POST    /assemblies/build/                                   S B Q
GET     /certificates/                                       all
GET     /certificates/<str:code>/                            all
GET     /certificates/<str:code>/correct/                    Q
POST    /certificates/<str:code>/correct/                    Q
GET     /certificates/<str:code>/discard/                    Q
POST    /certificates/<str:code>/discard/                    Q
POST    /certificates/<str:code>/issue/                      Q
GET     /certificates/<str:code>/withdraw/                   Q
POST    /certificates/<str:code>/withdraw/                   Q
GET     /certificates/<str:number>/credential/               all
GET     /certificates/<str:number>/json/                     all
GET     /certificates/<str:number>/pdf/                      all
GET     /certificates/<str:number>/proof/                    all
GET     /certificates/<str:number>/renewed/                  all
GET     /certificates/draft/assembly/                        Q
POST    /certificates/draft/assembly/                        Q
GET     /certificates/draft/breaking/                        Q
POST    /certificates/draft/breaking/                        Q
GET     /certificates/draft/cut-length/                      Q
POST    /certificates/draft/cut-length/                      Q
GET     /certificates/<str:code>/preview/                    all
GET     /certificates/<str:code>/wording/                    Q
POST    /certificates/<str:code>/wording/                    Q
GET     /certificates/batches/                               all
GET     /certificates/batches/<str:code>/                    all
POST    /certificates/batches/<str:code>/go-on/              Q
GET     /certificates/batches/<str:code>/papers/             all
GET     /certificates/batches/<str:code>/progress/           all
POST    /certificates/batches/<str:code>/stop/               Q
GET     /certificates/draft/several/                         Q
POST    /certificates/draft/several/                         Q
GET     /certificates/issue/                                 Q
POST    /certificates/issue/                                 Q
POST    /certificates/of/<str:code>/                         Q
GET     /certificates/stating-too-much/                      all
GET     /cutting/                                            S Q
POST    /cutting/                                            S Q
POST    /cutting/label/                                      S Q
GET     /decision-rules/                                     all
GET     /decision-rules/choose/                              Q
POST    /decision-rules/choose/                              Q
GET     /decision-rules/what-if/                             all
GET     /deliveries/                                         all
GET     /deliveries/<str:code>/                              all
GET     /deliveries/record/                                  S Q
POST    /deliveries/record/                                  S Q
GET     /find/                                               all
POST    /find/                                               all
GET     /fittings/                                           all
GET     /fittings/<str:code>/                                all
GET     /fittings/receive/                                   S Q
POST    /fittings/receive/                                   S Q
GET     /heats/                                              all
GET     /heats/<str:code>/                                   all
GET     /heats/record/                                       S Q
POST    /heats/record/                                       S Q
GET     /holds/                                              all
GET     /holds/<str:code>/                                   all
GET     /holds/<str:code>/recall/                            all
GET     /holds/<str:code>/recall/letters/                    Q
POST    /holds/<str:code>/recall/letters/                    Q
GET     /holds/<str:code>/release/                           Q
POST    /holds/<str:code>/release/                           Q
POST    /holds/<str:code>/undo/                              Q
GET     /holds/place/<str:code>/                             S B Q I
POST    /holds/place/<str:code>/                             S B Q I
GET     /journal/                                            all
GET     /journal/<int:entry>/                                all
GET     /journal/<int:entry>/proof/                          all
GET     /letterhead/                                         all
GET     /letterhead/set/                                     K
POST    /letterhead/set/                                     K
GET     /labels/                                             S Q
POST    /labels/                                             S Q
GET     /labels/<str:code>/revoke/                           Q
POST    /labels/<str:code>/revoke/                           Q
GET     /makers/                                             all
GET     /makers/<str:code>/<path:designation>/               all
GET     /mill-documents/                                     all
GET     /mill-documents/<str:code>/                          all
GET     /mill-documents/<str:code>/scan/                     all
GET     /mill-documents/file/                                S Q
POST    /mill-documents/file/                                S Q
GET     /orders/                                             all
GET     /orders/<str:code>/                                  all
GET     /orders/<str:code>/cutting/                          S Q
POST    /orders/<str:code>/cutting/                          S Q
GET     /orders/place/                                       S Q
POST    /orders/place/                                       S Q
GET     /parties/                                            all
GET     /parties/<str:code>/language/                         Q K
POST    /parties/<str:code>/language/                         Q K
GET     /parties/register/                                   Q K
POST    /parties/register/                                   Q K
GET     /people/                                             K
GET     /people/<str:username>/                              K
GET     /people/<str:username>/close/                        K
POST    /people/<str:username>/close/                        K
GET     /people/<str:username>/open/                         K
POST    /people/<str:username>/open/                         K
GET     /people/<str:username>/pass-phrase/                  K
POST    /people/<str:username>/pass-phrase/                  K
GET     /people/<str:username>/role/                         K
POST    /people/<str:username>/role/                         K
GET     /people/<str:username>/second-step/                  K
POST    /people/<str:username>/second-step/                  K
GET     /people/register/                                    K
POST    /people/register/                                    K
GET     /pieces/<str:code>/                                  all
GET     /pieces/<str:code>/reverse/                          Q
POST    /pieces/<str:code>/reverse/                          Q
GET     /pieces/<str:code>/take-back/                        S Q
POST    /pieces/<str:code>/take-back/                        S Q
POST    /pieces/<str:code>/undo/                             S Q
GET     /recall-notices/                                     all
GET     /recall-notices/<str:code>/                          all
GET     /recall-notices/<str:code>/answer/                   Q
POST    /recall-notices/<str:code>/answer/                   Q
GET     /recall-notices/<str:code>/sent/                     Q
POST    /recall-notices/<str:code>/sent/                     Q
GET     /recall-notices/<str:code>/letter/                   all
GET     /receiving-checks/<str:code>/                        all
GET     /reels/                                              all
GET     /reels/<str:code>/                                   all
GET     /reels/<str:code>/check/                             all
POST    /reels/<str:code>/check/                             S Q
GET     /reels/<str:code>/cut/                               S Q
POST    /reels/<str:code>/cut/                               S Q
GET     /reels/<str:code>/label/                             all
GET     /reels/<str:code>/move/                              S Q
POST    /reels/<str:code>/move/                              S Q
GET     /reels/<str:code>/readings/                          all
POST    /reels/<str:code>/readings/                          S B Q
GET     /reels/<str:code>/rewind/                            S Q
POST    /reels/<str:code>/rewind/                            S Q
GET     /reels/<str:code>/strength/                          all
POST    /reels/<str:code>/strength/                          Q
GET     /reels/receive/                                      S Q
POST    /reels/receive/                                      S Q
POST    /reels/receive/findings/                             S Q
GET     /reports/                                            Q A
GET     /reports/<str:code>/                                 Q A
GET     /reports/<str:code>/close/                           Q
POST    /reports/<str:code>/close/                           Q
GET     /reports/<str:code>/forget-contact/                  Q
POST    /reports/<str:code>/forget-contact/                  Q
GET     /reports/<str:code>/hold/                            Q
POST    /reports/<str:code>/hold/                            Q
GET     /reports/<str:code>/photographs/<int:position>/      Q A
GET     /representatives/                                    all
GET     /representatives/<int:pk>/end/                       K
POST    /representatives/<int:pk>/end/                       K
GET     /representatives/add/                                K
POST    /representatives/add/                                K
GET     /scan/                                               all
POST    /scan/                                               all
GET     /tables/                                             all
GET     /tables/<slug:slug>/                                 all
GET     /tables/agreed/add/                                  Q
POST    /tables/agreed/add/                                  Q
GET     /testing-machines/                                   all
GET     /testing-machines/<str:code>/                        all
GET     /testing-machines/<str:code>/calibrate/              B Q
POST    /testing-machines/<str:code>/calibrate/              B Q
GET     /testing-machines/register/                          Q K
POST    /testing-machines/register/                          Q K
GET     /tests/                                              all
GET     /tests/<str:code>/log/                               all
GET     /tests/<str:code>/reverse/                           Q
POST    /tests/<str:code>/reverse/                           Q
GET     /tests/breaking/<str:code>/                          all
GET     /tests/breaking/preview/                             B Q
POST    /tests/breaking/preview/                             B Q
GET     /tests/breaking/record/                              B Q
POST    /tests/breaking/record/                              B Q
GET     /tests/proof/                                        all
GET     /tests/proof/<str:code>/                             all
GET     /tests/proof/force/                                  all
GET     /tests/proof/preview/                                B Q
POST    /tests/proof/preview/                                B Q
GET     /tests/proof/record/                                 B Q
POST    /tests/proof/record/                                 B Q
GET     /tests/wires/                                        all
GET     /tests/wires/<str:code>/                             all
GET     /tests/wires/record/                                 B Q
POST    /tests/wires/record/                                 B Q
GET     /trace/                                              all
GET     /trace/around/                                       all
GET     /trace/bundle/                                       Q A
POST    /trace/bundle/                                       Q A
GET     /trace/recall/                                       all

# The API for strangers.
POST    /api/check/                                          anyone
GET     /api/schema/                                         anyone
GET     /api/tags/{code}/public/                             anyone
POST    /api/tags/{code}/reports/                            anyone
POST    /api/token/                                          anyone

# The API of the house.
GET     /api/account/reading/                                all
POST    /api/account/reading/                                all
GET     /api/affected-papers/                                all
GET     /api/agreed-specifications/                          all
POST    /api/agreed-specifications/                          Q
GET     /api/assemblies/                                     all
POST    /api/assemblies/                                     S B Q
GET     /api/assemblies/{code}/                              all
GET     /api/assemblies/{code}/strength/                     all
GET     /api/breaking-tests/                                 all
POST    /api/breaking-tests/                                 B Q
GET     /api/breaking-tests/{code}/                          all
GET     /api/breaking-tests/{code}/loading/                  all
GET     /api/breaking-tests/{code}/log/                      all
POST    /api/breaking-tests/{code}/reverse/                  Q
POST    /api/bundles/                                        Q A
GET     /api/certificates/                                   all
POST    /api/certificates/assembly/                          Q
POST    /api/certificates/breaking/                          Q
POST    /api/certificates/cut-length/                        Q
GET     /api/certificates/{code}/                            all
DELETE  /api/certificates/{code}/                            Q
GET     /api/certificates/{code}/checklist/                  all
POST    /api/certificates/{code}/issue/                      Q
GET     /api/certificates/{code}/preview/                    all
POST    /api/certificates/{code}/wording/                    Q
GET     /api/certificates/batches/                           all
POST    /api/certificates/batches/                           Q
GET     /api/certificates/batches/{code}/                    all
POST    /api/certificates/batches/{code}/go-on/              Q
GET     /api/certificates/batches/{code}/lines/              all
POST    /api/certificates/batches/{code}/stop/               Q
POST    /api/certificates/own/                               Q
GET     /api/certificates/{code}/credential/                 all
GET     /api/certificates/{code}/json/                       all
GET     /api/certificates/{code}/pdf/                        all
GET     /api/certificates/{code}/proof/                      all
POST    /api/certificates/{code}/supersede/                  Q
POST    /api/certificates/{code}/withdraw/                   Q
GET     /api/decision-rules/                                 all
POST    /api/decision-rules/                                 Q
GET     /api/decision-rules/what-if/                         all
GET     /api/decision-rules/{code}/                          all
GET     /api/deliveries/                                     all
POST    /api/deliveries/                                     S Q
GET     /api/deliveries/{code}/                              all
GET     /api/derive/                                         all
GET     /api/fitting-lots/                                   all
POST    /api/fitting-lots/                                   S Q
GET     /api/fitting-lots/{code}/                            all
GET     /api/heats/                                          all
POST    /api/heats/                                          S Q
GET     /api/heats/{code}/                                   all
GET     /api/holds/                                          all
POST    /api/holds/                                          S B Q I
GET     /api/holds/{code}/                                   all
POST    /api/holds/{code}/release/                           Q
GET     /api/journal/                                        all
GET     /api/journal/{number}/                               all
GET     /api/journal/{number}/inclusion/                     all
GET     /api/journal/checkpoint/                             all
GET     /api/journal/consistency/                            all
GET     /api/letterheads/                                    all
POST    /api/letterheads/                                    K
GET     /api/machines/                                       all
POST    /api/machines/                                       Q K
GET     /api/machines/{code}/                                all
GET     /api/machines/{code}/calibrations/                   all
POST    /api/machines/{code}/calibrations/                   B Q
GET     /api/maker-records/                                  all
GET     /api/maker-records/record/                           all
GET     /api/mill-documents/                                 all
POST    /api/mill-documents/                                 S Q
GET     /api/mill-documents/{code}/                          all
GET     /api/mill-documents/{code}/file/                     all
GET     /api/orders/                                         all
POST    /api/orders/                                         S Q
GET     /api/orders/{code}/                                  all
POST    /api/orders/{code}/cutting-proposal/                 S Q
POST    /api/orders/{code}/cutting/                          S Q
GET     /api/orders/{code}/weight/                           all
GET     /api/parties/                                        all
POST    /api/parties/                                        Q K
GET     /api/parties/{code}/                                 all
POST    /api/parties/{code}/language/                        Q K
GET     /api/people/                                         K
POST    /api/people/                                         K
GET     /api/people/{username}/                              K
POST    /api/people/{username}/close/                        K
POST    /api/people/{username}/open/                         K
POST    /api/people/{username}/pass-phrase/                  K
POST    /api/people/{username}/reset-second-step/            K
POST    /api/people/{username}/role/                         K
GET     /api/pieces/                                         all
GET     /api/pieces/{code}/                                  all
GET     /api/pieces/{code}/point/                            all
POST    /api/pieces/{code}/reverse/                          Q
POST    /api/pieces/{code}/take-back/                        S Q
GET     /api/pieces/{code}/trace/                            all
POST    /api/pieces/{code}/undo/                             S Q
GET     /api/pieces/{code}/weight/                           all
GET     /api/proof-tests/                                    all
POST    /api/proof-tests/                                    B Q
GET     /api/proof-tests/force-to-show/                      all
GET     /api/proof-tests/{code}/                             all
GET     /api/proof-tests/{code}/bounds/                      all
GET     /api/proof-tests/{code}/log/                         all
POST    /api/proof-tests/{code}/reverse/                     Q
GET     /api/recall/                                         all
GET     /api/recall-notices/                                 all
POST    /api/recall-notices/                                 Q
GET     /api/recall-notices/{code}/                          all
POST    /api/recall-notices/{code}/acknowledge/              Q
GET     /api/recall-notices/{code}/letter/                   all
POST    /api/recall-notices/{code}/sent/                     Q
GET     /api/reels/                                          all
POST    /api/reels/                                          S Q
GET     /api/reels/{code}/                                   all
GET     /api/reels/{code}/back/                              all
GET     /api/reels/{code}/bases/                             all
POST    /api/reels/{code}/bases/                             Q
GET     /api/reels/{code}/checks/                            all
POST    /api/reels/{code}/checks/                            S Q
POST    /api/reels/{code}/cut/                               S Q
GET     /api/reels/{code}/forward/                           all
GET     /api/reels/{code}/free/                              all
GET     /api/reels/{code}/map/                               all
POST    /api/reels/{code}/move/                              S Q
GET     /api/reels/{code}/neighbours/                        all
GET     /api/reels/{code}/readings/                          all
POST    /api/reels/{code}/readings/                          S B Q
POST    /api/reels/{code}/rewind/                            S Q
GET     /api/reels/{code}/strength/                          all
GET     /api/representatives/                                all
POST    /api/representatives/                                K
GET     /api/site-reports/                                   Q A
GET     /api/site-reports/{code}/                            Q A
POST    /api/site-reports/{code}/close/                      Q
POST    /api/site-reports/{code}/forget-contact/             Q
POST    /api/site-reports/{code}/hold/                       Q
GET     /api/site-reports/{code}/photos/{position}/          Q A
GET     /api/site-reports/{code}/trace/                      Q A
GET     /api/specifications/                                 all
GET     /api/specifications/{slug}/                          all
GET     /api/stock/                                          all
GET     /api/stock/offer/                                    all
GET     /api/tags/                                           all
POST    /api/tags/                                           S Q
GET     /api/tags/{code}/                                    all
POST    /api/tags/{code}/revoke/                             Q
GET     /api/trace/                                          all
GET     /api/wire-tests/                                     all
POST    /api/wire-tests/                                     B Q
GET     /api/wire-tests/{code}/                              all
POST    /api/wire-tests/{code}/reverse/                      Q
"""

_LETTERS = {
    "S": Role.STORES,
    "B": Role.TEST_BENCH,
    "Q": Role.QA_OFFICER,
    "I": Role.INSPECTION_REPRESENTATIVE,
    "A": Role.AUDITOR,
    "K": Role.ADMINISTRATOR,
}
STRANGER = "stranger"
_WORDS = {"anyone": frozenset({STRANGER, *Role}), "all": frozenset(Role)}


def _read() -> dict[Endpoint, frozenset[str]]:
    rows = {}
    for line in TABLE.splitlines():
        if not line or line.startswith("#"):
            continue
        method, path, *who = line.split()
        endpoint = Endpoint(method, path)
        assert endpoint not in rows, f"two rows for {endpoint}"
        named = " ".join(who)
        rows[endpoint] = _WORDS.get(named) or frozenset(_LETTERS[letter] for letter in who)
    return rows


MAY = MappingProxyType(_read())
