"""What to draw for a part without drawn data: a shape by its role or a word of its name."""

from __future__ import annotations

from hoistwright.hoist.parts import Drawn, Part

_BY_ROLE = {
    "load_chain": "load chain",
    "hand_chain": "hand chain",
    "load_sheave": "pocket wheel",
    "idle_sheave": "idle sheave",
    "hand_chain_wheel": "hand chain wheel",
    "changeover_wheel": "changeover wheel",
    "friction_disc": "friction disc",
    "ratchet_disc": "ratchet disc",
    "disc_hub": "disc hub",
    "drive_shaft": "pinion shaft",
    "pawl": "pawl",
    "pawl_spring": "leg spring",
    "gear": "gear",
    "gear_case": "gear case",
    "side_plate": "side plate",
    "guide_roller": "roller",
    "stripper": "stripper",
    "stay_bolt": "stay bolt",
    "hook": "hook",
    "suspension_pin": "pin",
    "chain_anchor_pin": "headed pin",
    "bearing": "bearing",
    "data_plate": "data plate",
    "warning_tag": "tag",
    "lever": "lever",
}

_BY_WORD = (
    ("split pin", "split pin"),
    ("retaining ring", "retaining ring"),
    ("circlip", "retaining ring"),
    ("lock washer", "lock washer"),
    ("gasket", "gasket"),
    ("seal", "seal"),
    ("washer", "washer"),
    ("spring", "helical spring"),
    ("nut", "nut"),
    ("rivet", "rivet"),
    ("screw", "screw"),
    ("stay bolt", "stay bolt"),
    ("bolt", "bolt"),
    ("needle", "needle bearing"),
    ("bearing", "bearing"),
    ("pawl", "pawl"),
    ("roller", "roller"),
    ("latch", "latch"),
    ("yoke", "yoke"),
    ("pin", "pin"),
    ("stud", "pin"),
    ("gear", "gear"),
    ("shaft", "pinion shaft"),
    ("sheave", "idle sheave"),
    ("knob", "knob"),
    ("cover", "cover"),
    ("case", "gear case"),
    ("plate", "side plate"),
    ("label", "data plate"),
    ("tag", "tag"),
    ("chain", "joining link"),
    ("bush", "bush"),
    ("spacer", "spacer"),
    ("key", "key"),
    ("grip", "grip"),
    ("lever", "lever"),
)


def guessed(part: Part) -> Drawn:
    """A small shape, lying loose, so that nothing is missing from the drawing."""
    shape = _BY_ROLE.get(part.role)
    if shape is None:
        name = part.name.lower()
        shape = next((found for word, found in _BY_WORD if word in name), "ring")
    if shape == "hook" and "top" in f"{part.key} {part.name}".lower():
        shape = "top hook"
    return Drawn(shape=shape, axis="loose")
