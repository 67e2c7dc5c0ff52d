"""`hoistwright quote`: the quote for a filled job sheet, as PDF."""

from __future__ import annotations

import argparse
import datetime
import json
from pathlib import Path
from typing import TYPE_CHECKING

from hoistwright.cli import typed
from hoistwright.cli.show import console, plain, table
from hoistwright.cli.typed import latest_day

if TYPE_CHECKING:
    from hoistwright.certificate.quote import QuotePaper
    from hoistwright.certificate.typeset import Paper
    from hoistwright.examine.result import Examination
    from hoistwright.hoist.design import Design
    from hoistwright.job.charges import Charges
    from hoistwright.job.shop import Shop
    from hoistwright.renew.offer import Offer
    from hoistwright.renew.policy import PartRisk
    from hoistwright.renew.prices import PriceBook


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("sheet", metavar="SHEET", help="a .toml, .csv or .xlsx job sheet")
    parser.add_argument("--shop", required=True, help="the shop file, with [charges]")
    parser.add_argument("--prices", metavar="FILE", help="a price list, not the shop file's")
    parser.add_argument("--to", metavar="FILE", help="write the quote as PDF")
    parser.add_argument("--lang", choices=("en", "fr"), help="language of the paper")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4")
    parser.add_argument("--number", default="", help="number of the quote")
    parser.add_argument("--by", default="", help="key of whoever makes it")
    parser.add_argument("--on", type=typed.day, metavar="DATE", help="its day; without: today")
    parser.add_argument(
        "--risk",
        action="append",
        default=[],
        metavar="PART=SHARE",
        help="the chance you see that a part reaches its limit before the next visit, such as "
        "pawl=0.2; may be given again. The bench has it from the forecast",
    )
    parser.add_argument("--json", action="store_true", help="print JSON instead of tables")


def run(args: argparse.Namespace) -> int:
    from hoistwright.certificate.quote import quote_data, render_quote
    from hoistwright.certificate.write import write_whole

    paper = _paper(args)
    if args.to:
        wanted = args.lang or paper.sheet.customer.language or paper.shop.language
        data = quote_data(paper, wanted)
        size: Paper = "us-letter" if args.paper == "letter" else "a4"
        write_whole(Path(args.to), render_quote(data, size))
    if args.json:
        import attrs

        print(json.dumps(attrs.asdict(paper.offer), indent=2))
    else:
        _show(paper.offer)
        if args.to:
            console().print(plain(f"Quote: {args.to}"))
    return 0


def _paper(args: argparse.Namespace) -> QuotePaper:
    from hoistwright.certificate.quote import QuotePaper
    from hoistwright.job.shop_file import load_shop
    from hoistwright.pricing.known import shipped_parts
    from hoistwright.pricing.read import read_prices
    from hoistwright.sheet import read_sheet
    from hoistwright.sheet.examine_sheet import examine_sheet

    shop = load_shop(Path(args.shop))
    charges = _charges(shop, args.shop)
    book = read_prices(_listed(args, charges), currency=charges.currency, known=shipped_parts())
    sheet = read_sheet(Path(args.sheet), shop=shop, today=latest_day(shop))
    examination = examine_sheet(sheet, shop)
    day = args.on or datetime.date.today()
    person = shop.person(args.by)
    return QuotePaper(
        number=args.number or f"{sheet.job}-Q1",
        day=day,
        valid_until=day + datetime.timedelta(days=charges.valid_days),
        made_by=person.name if person else "",
        offer=_offer(examination, book, charges, _risks(examination.design, args.risk)),
        design=examination.design,
        sheet=sheet,
        shop=shop,
        unknown=len(examination.not_established),
    )


def _listed(args: argparse.Namespace, charges: Charges) -> Path:
    """The price list asked for, else the one beside the shop file."""
    from hoistwright.faults import Fault, FaultsError, Place

    if args.prices:
        return Path(args.prices)
    if charges.price_list:
        return Path(args.shop).parent / charges.price_list
    place = Place(file=args.shop, key="charges.price_list")
    raise FaultsError([Fault(place, "nothing", "the name of a price list, or --prices FILE")])


def _charges(shop: Shop, file: str) -> Charges:
    from hoistwright.faults import Fault, FaultsError, Place

    if shop.charges is None:
        fault = Fault(
            Place(file=file), "no table [charges]", "what the shop charges",
            "Write currency, labour_per_hour, call_back and price_list into it.",
        )  # fmt: skip
        raise FaultsError([fault])
    return shop.charges


def _risks(design: Design, given: list[str]) -> list[PartRisk]:
    """Chances typed on the command line. Raises FaultsError for one that is none."""
    from hoistwright.cli.part_names import known_parts
    from hoistwright.faults import Fault, FaultsError, Place
    from hoistwright.renew.policy import PartRisk

    out: list[PartRisk] = []
    for text in given:
        name, _, share = text.rpartition("=")
        try:
            chance = float(share)
            out += [
                PartRisk(part=key, probability=chance, why="")
                for key in known_parts(design, [name])
            ]
        except ValueError:
            fault = Fault(
                Place(key="--risk"), f"'{text}'", "a part and a share from 0 to 1: pawl=0.2"
            )
            raise FaultsError([fault]) from None
    return out


def _offer(
    examination: Examination, book: PriceBook, charges: Charges, risks: list[PartRisk]
) -> Offer:
    """Must by verdict, borderline taken as must; the hoist counts as stripped fully."""
    from hoistwright.renew.needs import needs_of
    from hoistwright.renew.offer import offer
    from hoistwright.strip.plan import full_strip

    design, needs = examination.design, needs_of(examination)
    must = (*needs.must, *needs.borderline)
    forced = {need.part for need in must}
    return offer(
        design,
        must,
        [risk for risk in risks if risk.part not in forced],
        book.of_design(design.key),
        charges.policy(),
        already=[s.key for s in full_strip(design).steps] if design.take_apart else (),
        new_price=charges.new_price(design.key),
        scrap_value=charges.scrap,
    )


def _show(offer: Offer) -> None:
    from hoistwright.renew.money import money

    def amount(minor: int | None) -> str:
        return "on request" if minor is None else money(minor, offer.currency)

    out = console()
    rows = [
        (line.standing, plain(line.name), str(line.pieces), amount(line.price),
         amount(line.opening), plain(line.why))
        for line in offer.lines
    ]  # fmt: skip
    heads = ("", "part", "pieces", "price", "opening", "why")
    out.print(table("Renewals", heads, rows))
    for name, sums in (("Only what must", offer.least), ("With everything advised", offer.best)):
        out.print(
            f"{name}: {amount(sums.total)} (parts {amount(sums.parts)}, one-use "
            f"{amount(sums.one_use)}, work {amount(sums.labour)}), without tax."
        )
    if offer.open_prices:
        out.print(f"Without a price, and in no sum: {', '.join(offer.open_prices)}")
    if offer.repair:
        out.print(plain(offer.repair.sentence))
