"""The tables of a certificate: defects, work, tests, figures, looks, limits, gauges."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hoistwright.certificate.release.page_cells import Writer, table, text
from hoistwright.certificate.release.values import ONCE
from hoistwright.quantity import Dimension

Record = Mapping[str, Any]
Key = tuple[str, ...]

UNCHANGED = "as found and as left"

_KNOWN = {
    "read": "text read",
    "memory": "from memory: compare with your copy",
    "practice": "common practice",
    "maker": "maker's own",
}


def defects(record: Record, w: Writer) -> dict[str, Any]:
    rows = [
        [
            w.sentence(item["part"]),
            w.sentence(item["defect"]),
            w.say(item["danger"]),
            [
                w.sentence(item["remedy"]),
                w.say("by %(day)s", day=w.day(item["by"])) if item["by"] else "",
            ],
            w.say(item["done"]) or w.say("nothing yet"),
        ]
        for item in record["defects"]
    ]
    if not rows:
        return text(w.say("No defect was found that is or could become a danger."))
    head = [w.say(word) for word in ("Part", "Defect", "Danger", "What is needed", "Done")]
    return table((32, 0, 28, 42, 26), head, rows)


def work(record: Record, w: Writer) -> dict[str, Any]:
    rows = [
        [
            w.sentence(item["name"] or item["part"]),
            w.say(item["work"]),
            w.stated(item["trace"]),
            w.sentence(item["remark"]),
        ]
        for item in record["work"]
        if item["part"] != ONCE
    ]
    if not rows:
        return text(w.say("Nothing was renewed, repaired or altered."))
    head = [w.say(word) for word in ("Part", "Work", "Batch or certificate", "Remark")]
    return table((52, 26, 44, 0), head, rows)


def used_once(record: Record, w: Writer) -> list[dict[str, Any]]:
    """The one-use parts of the rebuild, in one text; no block where there were none."""
    return [
        text(
            w.say("Parts used once, renewed: %(names)s.", names=w.sentence(item["remark"])),
            small=True,
        )
        for item in record["work"]
        if item["part"] == ONCE
    ]


def tests(record: Record, w: Writer) -> dict[str, Any]:
    if not record["tests"]:
        return text(w.say("No test was made."))
    head = [w.say(word) for word in ("Test", "Load on the hook", "Particulars", "Result", "Source")]
    return table((30, 27, 0, 19, 29), head, [_test(item, w) for item in record["tests"]])


def _test(item: Record, w: Writer) -> list[Any]:
    load = ""
    if item["load"] is not None:
        load = w.interval(item["load"], item["load_uncertainty"], Dimension.MASS)
        if item["load_uncertainty"] is None:
            load = w.figure(item["load"], Dimension.MASS)
    hold = w.say("held %(time)s s", time=f"{item['hold']:g}") if item["hold"] else ""
    figures = [_test_figure(figure, w) for figure in item["figures"]]
    clause = ", ".join(w.sentence(word) for word in (item["clause"], item["edition"]) if word)
    return [
        [w.sentence(item["name"]), w.say("by %(who)s", who=item["by"]) if item["by"] else ""],
        [load or w.say("no load recorded"), hold],
        [w.sentence(item["particulars"]), *figures],
        {
            "sign": "fit" if item["passed"] else "renew",
            "word": w.say("passed") if item["passed"] else w.say("not passed"),
        },
        [w.sentence(item["source"]), clause],
    ]


def _test_figure(item: Record, w: Writer) -> str:
    value = f"{w.sentence(item['what'])}{w.colon}{w.sentence(item['value'])}"
    if item["uncertainty"]:
        value += f" ± {w.sentence(item['uncertainty'])}"
    more = [
        w.say("limit %(limit)s", limit=w.sentence(item["limit"])) if item["limit"] else "",
        w.say("gauge %(gauge)s", gauge=item["gauge"]) if item["gauge"] else "",
        item["formula"],
        w.sentence(item["source"]),
    ]
    return w.semi.join([value, *(word for word in more if word)])


def measured(record: Record, w: Writer, numbers: Mapping[Key, int]) -> dict[str, Any]:
    """Every measured figure with its gauge, uncertainty, formula, limit and the limit's number."""
    rows = [_figure(item, w, numbers) for item in record["figures"]]
    if not rows:
        return text(w.say("Nothing was measured."))
    head = [
        w.say(word)
        for word in ("No.", "Part and measure", "Mean of readings", "Judged", "Limit", "Verdict")
    ]
    return table((9, 0, 35, 42, 28, 26), head, rows)


def _figure(item: Record, w: Writer, numbers: Mapping[Key, int]) -> list[Any]:
    judged = item["judged"]
    name = ", ".join(w.sentence(word) for word in (item["part_name"], item["feature_name"]) if word)
    what = [name, ", ".join(word for word in (w.sentence(item["place"]), _state(item, w)) if word)]
    gauge = item["gauge"] or w.say("no gauge")
    if judged is None:
        why = w.say("not established")
        return [
            item["id"],
            what,
            [why, gauge],
            w.sentence(item["why"]),
            "",
            w.verdict(item["outcome"]),
        ]
    own, read = Dimension(judged["dimension"]), Dimension(item["dimension"])
    spread = None if judged["mean_uncertainty"] is None else 2 * judged["mean_uncertainty"]
    count = sum(len(reading["values"]) for reading in item["readings"])
    value = w.interval(judged["value"], judged["expanded_uncertainty"], own)
    k = w.language.number(judged["coverage_factor"] or 2.0, 2)
    limit = f"{w.say(judged['side'])} {w.figure(judged['limit'], own)}"
    number = numbers.get(criterion_key(item["criterion"]))
    return [
        item["id"],
        what,
        [w.interval(judged["mean"], spread, read), f"n = {count}, {gauge}"],
        [f"{w.say(judged['quantity'])} {value}", f"k = {k}{w.semi}{item['formula']}"],
        [limit, f"[{number}]" if number else ""],
        w.verdict(item["outcome"]),
    ]


def _state(item: Record, w: Writer) -> str:
    """As found or as left, where it is not both."""
    return "" if item["state"] == UNCHANGED else w.say(item["state"])


def looked(record: Record, w: Writer) -> dict[str, Any]:
    """Looks by part: what was in order in one line, what was not with its remark."""
    parts: dict[str, list[Record]] = {}
    for item in record["looks"]:
        parts.setdefault(item["part_name"], []).append(item)
    rows = [
        [w.sentence(name), _in_order(found, w), _other(found, w)] for name, found in parts.items()
    ]
    if not rows:
        return text(w.say("Nothing was looked at."))
    head = [w.say("Part"), w.say("In order"), w.say("Not in order, or not looked at")]
    return table((44, 0, 52), head, rows)


def _in_order(found: Sequence[Record], w: Writer) -> str:
    good = [item["feature_name"] for item in found if item["answer"] == "in order"]
    return w.semi.join(w.sentence(name) for name in dict.fromkeys(good))


def _other(found: Sequence[Record], w: Writer) -> list[str]:
    return [
        w.colon.join(
            word
            for word in (w.sentence(item["feature_name"]), w.say(item["answer"]), item["remark"])
            if word
        )
        + (f" ({_state(item, w)})" if _state(item, w) else "")
        for item in found
        if item["answer"] != "in order"
    ]


def criterion_numbers(record: Record) -> dict[Key, int]:
    """Numbers of the limits, in the order in which the figures name them."""
    found: dict[Key, int] = {}
    for item in (*record["figures"], *record["looks"]):
        if item["criterion"]:
            found.setdefault(criterion_key(item["criterion"]), len(found) + 1)
    return found


def criterion_key(criterion: Record | None) -> Key:
    """Limits of the same source, clause and edition are one line."""
    if criterion is None:
        return ()
    return tuple(criterion[key] for key in ("source", "clause", "edition", "known"))


def limits(numbers: Mapping[Key, int], w: Writer) -> dict[str, Any]:
    rows = [
        [
            f"[{number}]",
            w.sentence(source),
            w.sentence(clause) or w.say("not stated"),
            w.sentence(edition),
            w.say(_KNOWN[known]),
        ]
        for (source, clause, edition, known), number in numbers.items()
    ]
    head = [w.say(word) for word in ("No.", "Source", "Clause", "Edition", "How known")]
    return table((10, 52, 0, 34, 34), head, rows)


def gauges(record: Record, w: Writer) -> dict[str, Any]:
    rows = [
        [
            item["key"],
            w.sentence(item["name"]),
            item["certificate"] or w.say("not stated"),
            w.day(item["calibrated_on"]),
            w.day(item["due_on"]),
        ]
        for item in record["gauges"]
    ]
    head = [w.say(word) for word in ("Gauge", "Name", "Certificate", "Calibrated", "Due")]
    return table((24, 0, 40, 30, 30), head, rows)
