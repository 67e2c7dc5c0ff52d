"""Writes the demo shop's price list: invented prices for every part of the Ardle designs.

python tools/make_prices.py

A price follows from what a part is and from the size of its hoist; stock and lead time from its
part number. Nothing is drawn at random, so the list comes out the same each time.
"""

from __future__ import annotations

import csv
import hashlib
from pathlib import Path

from hoistwright.demo.shop_files import demo_folder
from hoistwright.hoist.library import shipped, shipped_keys
from hoistwright.hoist.parts import Part

BY_ROLE = {
    "hook": 48.0, "load_chain": 62.0, "load_sheave": 74.0, "idle_sheave": 58.0, "gear": 52.0,
    "drive_shaft": 66.0, "friction_disc": 11.5, "ratchet_disc": 27.0, "disc_hub": 34.0,
    "pawl": 9.8, "pawl_spring": 1.9, "bearing": 8.6, "suspension_pin": 14.0,
    "chain_anchor_pin": 7.5, "side_plate": 39.0, "stay_bolt": 6.4, "stripper": 8.2,
    "guide_roller": 7.1, "hand_chain": 31.0, "hand_chain_wheel": 42.0, "gear_case": 57.0,
    "lever": 45.0, "changeover_wheel": 29.0, "overload_limiter": 96.0, "data_plate": 6.0,
    "warning_tag": 3.5,
}  # fmt: skip
BY_WORD = {
    "washer": 0.35,
    "rivet": 0.4,
    "split_pin": 0.45,
    "tie": 0.3,
    "spring": 2.4,
    "nut_pin": 1.2,
    "ring": 0.95,
    "screw": 0.9,
    "nut": 1.6,
    "bolt_spacer": 3.1,
    "bolt": 3.8,
    "pin": 4.2,
    "gasket": 4.9,
    "seal": 3.7,
    "key": 2.2,
    "bush": 5.8,
    "latch": 6.9,
    "yoke": 33.0,
    "body": 17.0,
    "cover": 24.0,
    "shroud": 13.0,
    "guide": 6.2,
    "plate": 5.2,
    "link": 1.1,
    "knob": 7.4,
    "grip": 4.4,
    "crosshead": 38.0,
    "disc": 12.0,
    "stop": 5.0,
    "selector": 16.0,
}
"""By the first of these words that the part's key holds."""
PER_COMMON = ("washer", "rivet", "split_pin", "tie")
"""Small pieces that are the same on all hoists of about one size."""
SIZE = {"ardle-500": "S", "ardle-l750": "S", "ardle-2000": "M", "ardle-2000-ol": "M",
        "ardle-3000": "M", "ardle-l3000": "M", "ardle-10000": "L"}  # fmt: skip
OLD = {"ardle-2000": ("pawl", "friction_disc_inner", "friction_disc_outer"),
       "ardle-500": ("top_hook_latch",)}  # fmt: skip
"""Parts whose first number has been replaced."""
NO_PRICE = {("ardle-10000", "gear_case"), ("ardle-10000", "load_sheave"), ("ardle-l3000", "lever")}
HEAD = ("part number", "name", "price", "stock", "lead days", "replaced by", "fits")
NOTE = "# Invented: prices, numbers and stock of the demo shop. No real maker's list is meant."


def main() -> None:
    rows: dict[str, list[str]] = {}
    old: list[list[str]] = []
    for design in shipped_keys():
        for part in shipped(design).parts:
            if part.role != "hoist":
                _add(rows, old, design, part)
    path = demo_folder() / "prices.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        file.write(NOTE + "\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEAD)
        writer.writerows([*old, *(rows[number] for number in sorted(rows))])
    print(f"{Path(path).name}: {len(rows) + len(old)} lines")


def _add(rows: dict[str, list[str]], old: list[list[str]], design: str, part: Part) -> None:
    number = _number(design, part)
    pair = f"{design}:{part.key}"
    if number in rows:
        rows[number][-1] += f"; {pair}"
        return
    chance = _chance(number)
    price = "" if (design, part.key) in NO_PRICE else f"GBP {_price(design, part):.2f}"
    small = price != "" and float(price[4:]) < 5
    stock = 20 + chance % 60 if small else (chance % 5 if chance % 3 else 0)
    lead = 2 + chance % 4 if small else 3 + chance % 18
    rows[number] = [number, part.name, price, str(stock), str(lead), "", pair]
    if part.key in OLD.get(design, ()):
        first = f"{number}A"
        rows[number][-1] = ""
        old.append([first, part.name, "", "0", "", number, pair])


def _number(design: str, part: Part) -> str:
    if any(part.key.endswith(word) for word in PER_COMMON):
        return f"KQ-{SIZE[design]}-{1000 + _chance(part.key) % 9000}"
    shared = "ardle-2000" if design == "ardle-2000-ol" else design
    own = part.role == "overload_limiter" or part.key.startswith("limiter") or shared == design
    model = (design if own else shared).removeprefix("ardle-").upper()
    return f"A{model}-{100 + _chance(part.key) % 9900:04d}"


def _price(design: str, part: Part) -> float:
    rated = shipped(design).rating.rated_load or 1000.0
    size = (rated / 1000.0) ** (0.25 if part.role == "" else 0.55)
    words = (price for word, price in BY_WORD.items() if word in part.key)
    base = BY_ROLE.get(part.role) or next(words, 8.0)
    falls = (shipped(design).rating.falls or 1) if part.role == "load_chain" else 1
    price: float = round(base * size * falls * 20) / 20
    return max(price, 0.2)


def _chance(text: str) -> int:
    return int.from_bytes(hashlib.sha256(text.encode()).digest()[:4], "big")


if __name__ == "__main__":
    main()
