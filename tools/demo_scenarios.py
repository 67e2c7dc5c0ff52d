"""The demo shop's jobs: what is different on each hoist from a sound, lightly used one."""

from __future__ import annotations

from typing import Literal

import attrs

from hoistwright.examine.points import Point

Change = None | float | str | tuple[str, str]
"""None: as used. float: the as-new value times 1 + this. str: typed so. pair: a look's answer
and remark. "left out": no entry at all."""

BOATYARD = {
    "customer.name": "Saltmarsh Boatyard (invented)",
    "customer.address": "1 Creek Lane, Kittiwake Quay",
}
THEATRE = {
    "customer.name": "Lantern Street Theatre (invented)",
    "customer.address": "12 Lantern Street",
    "customer.premises": "Fly tower, grid level",
}
QUARRY = {
    "customer.name": "Greywether Quarry (invented)",
    "customer.address": "Greywether Pit Road",
    "customer.premises": "Crusher house",
}
TURBINES = {
    "customer.name": "High Fell wind-turbine crew (invented)",
    "customer.address": "High Fell substation yard",
}


@attrs.frozen(kw_only=True)
class Scenario:
    name: str
    ending: Literal["toml", "csv", "xlsx"]
    design: str
    header: dict[str, str]
    bases: tuple[str, ...] = ("b30-hand-hoists", "workshop-practice")
    units: Literal["mm", "in"] = "mm"
    changes: dict[str, Change] = attrs.Factory(dict)
    """By "feature", "feature@place" or "part/feature": the most exact one counts."""
    gauges: dict[str, str] = attrs.Factory(dict)
    """Gauges that the technician took instead of the usual ones."""

    def change(self, point: Point) -> Change:
        place = f"@{point.place}" if point.place else ""
        for key in (
            f"{point.part}/{point.feature}{place}",
            f"{point.part}/{point.feature}",
            f"{point.feature}{place}",
            point.feature,
        ):
            if key in self.changes:
                return self.changes[key]
        return None


def _head(
    job: str, serial: str, load: str, day: str, customer: dict[str, str], **more: str
) -> dict[str, str]:
    model = more.pop("model")
    return {
        "job": job,
        "hoist.maker": "Ardle",
        "hoist.model": model,
        "hoist.serial": serial,
        "hoist.rated_load": load,
        "hoist.manufactured": "2019",
        **customer,
        "work.examined_on": day,
        "work.examined_by": "tomasz",
        "work.service": "normal",
        **{key.replace("__", "."): value for key, value in more.items()},
    }


SCENARIOS = (
    Scenario(
        name="01-sound",
        ending="toml",
        design="ardle-2000",
        header=_head(
            "KQ-0401",
            "A2-11873",
            "2 t",
            "2026-10-05",
            BOATYARD,
            model="2000",
            hoist__tag="BY-07",
            work__complaint="yearly overhaul",
        ),
    ),
    Scenario(
        name="02-worn-chain",
        ending="csv",
        design="ardle-500",
        header=_head(
            "KQ-0402",
            "A05-20455",
            "500 kg",
            "2026-10-06",
            QUARRY,
            model="500",
            sheet__decimal="comma",
            work__service="heavy",
            work__complaint="chain jumps in the sheave",
        ),
        changes={
            # crowns worn by w lengthen each link by 2 w: 3.4 % of a 15 mm pitch is w = 0.255 mm
            "load_chain.gauge_length@section 1": "320,95; 321,00; 320,90",
            "load_chain.gauge_length@section 2": "320,60",
            "load_chain.gauge_length@section 3": "317,40",
            "load_chain.gauge_length@unworn": "310,05; 310,00; 310,00",
            "load_chain.crown_diameter@section 1 along": "4,75",
            "load_chain.crown_diameter@section 2 along": "4,76",
            "load_chain.crown_diameter@section 3 along": "4,83",
        },
    ),
    Scenario(
        name="03-overstrained-chain",
        ending="xlsx",
        design="ardle-2000",
        header=_head(
            "KQ-0403",
            "A2-11902",
            "2 t",
            "2026-10-07",
            QUARRY,
            model="2000",
            work__service="severe",
            work__complaint="hook looks open",
        ),
        changes={
            "load_chain.gauge_length@section 1": 0.034,
            "load_chain.gauge_length@section 2": 0.031,
            "load_chain.gauge_length@section 3": 0.012,
            "bottom_hook/hook.throat": 0.088,
            "bottom_hook/hook.visible_twist": ("defect", "tip stands out of plane"),
        },
    ),
    Scenario(
        name="04-oil-on-discs",
        ending="csv",
        design="ardle-3000",
        header=_head(
            "KQ-0404",
            "A3-00817",
            "3 t",
            "2026-10-08",
            THEATRE,
            model="3000",
            work__complaint="load sinks slowly",
        ),
        changes={
            "friction_disc.clean_dry": ("defect", "oil from the gear case, paper stains"),
            "ratchet_disc.faces": ("defect", "oily film"),
        },
    ),
    Scenario(
        name="05-seized-pawl",
        ending="toml",
        design="ardle-l750",
        header=_head(
            "KQ-0405",
            "AL-5561",
            "750 kg",
            "2026-10-09",
            BOATYARD,
            model="L750",
            work__complaint="found in the bilge; clicks on one side only",
        ),
        changes={
            "pawl.free@1": ("defect", "rusted solid on its pin"),
            "pawl.heard": ("not looked", ""),
            "pawl_spring.condition@1": ("defect", "rusted through"),
        },
    ),
    Scenario(
        name="06-borderline-throat",
        ending="xlsx",
        design="ardle-l3000",
        header=_head(
            "KQ-0406",
            "AL3-0042",
            "3 t",
            "2026-10-12",
            TURBINES,
            model="L3000",
            hoist__tag="WTG-14/2",
        ),
        changes={"bottom_hook/hook.throat": 0.0478},
    ),
    Scenario(
        name="07-gauge-out-of-date",
        ending="csv",
        design="ardle-500",
        header=_head("KQ-0407", "A05-20460", "500 kg", "2026-10-13", THEATRE, model="500"),
        gauges={"cal-1": "cal-2"},
    ),
    Scenario(
        name="08-missing-baseline",
        ending="toml",
        design="../designs/unknown-maker-1t.toml",
        header=_head(
            "KQ-0408",
            "plate: 77-310",
            "1 t",
            "2026-10-14",
            QUARRY,
            model="not known",
            work__complaint="bought second hand, no manual",
        )
        | {"hoist.maker": "not known"},
        changes={
            "hook.throat": "38.20",
            "hook.saddle_depth": "24.60",
            "hook.bowl_width": "19.80",
            "hook.shank_diameter": "17.90",
            "suspension_pin.diameter": "13.96",
            "friction_disc.thickness": "3.62",
            "pawl.tip_height": "6.90",
            "ratchet_disc.tooth_height": "5.20",
        },
    ),
    Scenario(
        name="09-illegible-plate",
        ending="toml",
        design="ardle-10000",
        header={
            key: value
            for key, value in _head(
                "KQ-0409",
                "",
                "",
                "2026-10-15",
                QUARRY,
                model="",
                work__complaint="plate painted over, model told by its four falls and 10 mm chain",
            ).items()
            if key not in ("hoist.serial", "hoist.rated_load", "hoist.manufactured", "hoist.model")
        },
        changes={"data_plate.legible": ("defect", "painted over, nothing to be read")},
    ),
    Scenario(
        name="10-typing-mistakes",
        ending="csv",
        design="ardle-2000",
        header=_head(
            "KQ-0410",
            "A2-11911",
            "2 t",
            "2026-10-16",
            BOATYARD,
            model="2000",
            work__examined_by="wren",
        ),
        changes={
            "top_hook/hook.throat": "7O.2",
            "top_hook/hook.saddle_depth": "1.409 in",  # an inch reading on a metric sheet is fine
            "bottom_hook/hook.throat": "2.74",
            "load_chain.gauge_length@section 1": "33.65",
            "load_chain.link_pitch@worst link": "24.1 kg",
            "suspension_pin.diameter": "-15.98",
            "load_chain.cracks": ("maybe", ""),
            "pawl.tip@2": ("defekt", "chipped"),
        },
        gauges={"mic-1": "mic-9"},
    ),
    Scenario(
        name="11-sound-inches",
        ending="xlsx",
        design="ardle-l750",
        units="in",
        bases=("b30-hand-hoists", "us-federal", "workshop-practice"),
        header=_head("KQ-0411", "AL-5570", "1653 lb", "2026-10-19", TURBINES, model="L750"),
    ),
    Scenario(
        name="12-limiter-seal",
        ending="toml",
        design="ardle-2000-ol",
        bases=("europe-round-link", "workshop-practice"),
        header=_head(
            "KQ-0412",
            "A2L-0315",
            "2 t",
            "2026-10-20",
            THEATRE,
            model="2000 OL",
            work__complaint="slips at half load",
        ),
        changes={
            "overload_limiter.seal": ("defect", "lead seal gone"),
            "pawl_spring.free_length@1": 0.0,
        },
    ),
)
