"""A sound demo hoist with everything that its certificate needs: keys, order, register."""

from __future__ import annotations

import datetime
from functools import cached_property
from pathlib import Path
from typing import Any

import attrs

from hoistwright.certificate.release.issue import Issued, Pens, issue
from hoistwright.certificate.release.record import certificate_record, signatory_of
from hoistwright.certificate.release.register import Register
from hoistwright.certificate.release.values import (
    Certificate,
    Defect,
    NextDue,
    TestFigure,
    TestMade,
    WorkDone,
)
from hoistwright.certificate.signing.make_keys import (
    ShopKeys,
    SignerKeys,
    make_shop_keys,
    make_signer_keys,
)
from hoistwright.certificate.signing.trust import Trust, trust_of
from hoistwright.examine.result import Examination
from hoistwright.job.job_sheet import JobSheet
from hoistwright.job.shop import Shop
from hoistwright.job.shop_file import load_shop
from hoistwright.sheet import read_sheet
from hoistwright.sheet.examine_sheet import examine_sheet

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "src/hoistwright/demo/data"
DAY = datetime.date(2026, 10, 7)
AT = datetime.datetime(2026, 10, 7, 15, 30, tzinfo=datetime.UTC)


@attrs.define(kw_only=True, slots=False)
class Scene:
    """Shop, hoist, keys and the certificate that is to be signed."""

    shop: Shop
    sheet: JobSheet
    examination: Examination
    keys: ShopKeys
    signer: SignerKeys
    certificate: Certificate
    day: datetime.date = DAY
    at: datetime.datetime = AT

    @property
    def pens(self) -> Pens:
        return Pens(signer=self.signer, code_key=self.keys.code_key)

    @property
    def trust(self) -> Trust:
        return trust_of((self.keys.root, self.keys.code))

    @property
    def empty(self) -> Register:
        return Register(shop=self.shop.name)

    def record(self, **changes: Any) -> dict[str, Any]:
        certificate = attrs.evolve(self.certificate, **changes)
        return certificate_record(certificate, self.examination, self.sheet, self.shop)

    @cached_property
    def issued(self) -> Issued:
        return self.issue()

    def issue(
        self,
        *,
        register: Register | None = None,
        at: datetime.datetime = AT,
        pens: Pens | None = None,
        **changes: Any,
    ) -> Issued:
        return issue(
            attrs.evolve(self.certificate, **changes),
            self.examination,
            self.sheet,
            self.shop,
            pens or self.pens,
            self.empty if register is None else register,
            at,
        )


def _certificate(shop: Shop) -> Certificate:
    who = signatory_of(shop, "odile")
    return Certificate(
        number="KQ-2026-0042",
        decision="released",
        issued_on=DAY,
        occasion="within 12 months",
        safe_to_operate=True,
        rated_load=2000.0,
        reported_by=who,
        authenticated_by=who,
        tested_on=datetime.date(2026, 10, 6),
        configuration="1 fall, lift 3 m",
        defects=(
            Defect(
                part="Bottom hook latch",
                defect="spring broken, latch hangs open",
                danger="is a danger",
                remedy="renew the latch",
                done="renewed",
            ),
            Defect(
                part="Hand chain",
                defect="two links nicked",
                danger="could become a danger",
                remedy="renew the hand chain",
                by=datetime.date(2027, 1, 15),
            ),
        ),
        work=(WorkDone(part="bottom_hook_latch", name="Bottom hook latch", trace="batch 26-118"),),
        tests=(
            TestMade(
                name="Test load",
                passed=True,
                particulars="Lifted, held, lowered and stopped at three heights.",
                load=2500.0,
                load_uncertainty=1.4,
                hold=600.0,
                source="ASME B30.16",
                clause="16-2.2.2",
                by="Odile Brannagh",
                figures=(
                    TestFigure(
                        what="hand pull",
                        value="312 N",
                        uncertainty="9 N",
                        gauge="pull-1",
                        formula="mean of three",
                        limit="at most 380 N",
                        source="design file",
                    ),
                ),
            ),
        ),
        next_due=NextDue(day=datetime.date(2027, 10, 6), why="12 months"),
    )


def make_scene() -> Scene:
    """The sound demo hoist, ready to be certified."""
    shop = load_shop(DEMO / "shop.toml")
    sheet = read_sheet(DEMO / "sheets/01-sound.toml", shop=shop)
    sheet = attrs.evolve(
        sheet,
        customer=attrs.evolve(sheet.customer, premises="Slipway crane, berth 4"),
        work=attrs.evolve(
            sheet.work,
            received_on=datetime.date(2026, 10, 1),
            last_examined_on=datetime.date(2025, 10, 9),
        ),
    )
    start = datetime.date(2026, 1, 1)
    keys = make_shop_keys(shop.name, start)
    return Scene(
        shop=shop,
        sheet=sheet,
        examination=examine_sheet(sheet, shop),
        keys=keys,
        signer=make_signer_keys(keys, shop.name, "odile", "Odile Brannagh", start),
        certificate=_certificate(shop),
    )


def end_states() -> list[dict[str, Any]]:
    """What each way out of the shop changes in the certificate."""
    shut = {"safe_to_operate": False, "rated_load": 0.0, "next_due": None}
    lower = {"rated_load": 1600.0, "rated_load_before": 2000.0, "plate_changed": True}
    gone = {"made_unusable": "load sheave sawn through, hooks cut off"}
    return [
        {},
        {"decision": "released with lower rated load", **lower},
        {"decision": "returned unrepaired", **shut},
        {"decision": "condemned", **gone, **shut},
    ]
