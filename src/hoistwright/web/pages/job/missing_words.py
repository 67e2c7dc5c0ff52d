"""What is missing, in the person's language, and where to go for it."""

from __future__ import annotations

from hoistwright.job.stages import Missing
from hoistwright.web.pages.job.case import Case

_BY_SENTENCE = ("booking", "identity", "customer", "found state", "rated load", "design", "basis")
"""Said in whole sentences that the catalogues know."""


def missing_words(case: Case, item: Missing) -> str:
    """One sentence; in English where the engine alone knows the details."""
    say = case.visit.say
    if item.stage == "release":
        return say(item.sentence)
    if item.what in ("reading", "look"):
        return _point(case, item)
    if item.what == "step":
        return say("Not ticked: %(step)s", step=say(_step(case, item)))
    if item.what == "hold point":
        return say("Hold point not signed: %(step)s", step=say(_step(case, item)))
    if item.what == "choice":
        return say("%(part)s: decide whether it is renewed.", part=_part(case, item.address[0]))
    return case.visit.language.sentence(item.sentence)


def missing_link(case: Case, item: Missing) -> str:
    """Where it can be done."""
    url, job, key = case.visit.url, case.job, item.address[0]
    if item.stage == "release":
        return release_link(case, item)
    if item.stage == "prove" and item.what != "design":
        return f"{url('job-prove', job=job)}#{_proof_place(item)}"
    if item.stage == "book in" or item.what == "design":
        return url("job-booking", job=job)
    if item.stage == "rebuild" and item.what == "look":
        return f"{url('job-rebuild', job=job)}#looks"
    page, anchor = _PLACES.get(item.what, ("", ""))
    if page:
        return url(page.format(stage=item.stage), job=job) + anchor.format(key=key)
    return url("job-part", job=job, part=key) if key else url("job", job=job)


def release_link(case: Case, item: Missing) -> str:
    """Where what the release rule misses is put right."""
    url, job, key = case.visit.url, case.job, item.address[0]
    parts = {part.key for part in case.design.parts} if case.design else set()
    if item.what == "hold point":
        steps = case.facts.rebuild.steps if case.facts.rebuild else ()
        rebuilt = key in {step.key for step in steps}
        return f"{url('job-rebuild' if rebuilt else 'job-prove', job=job)}#step-{key}"
    if item.what == "examined":
        part = key if key in parts else ""
        return url("job-part", job=job, part=part) if part else url("job-examine", job=job)
    if item.what == "identity":
        return url("job-booking", job=job)
    if item.what in ("proof", "test"):
        return url("job-prove", job=job)
    if item.what in ("basis", "gauge"):
        return url("bases" if item.what == "basis" else "gauges")
    return f"{url('job-release', job=job)}#{'sign' if item.what == 'certificate' else 'way'}"


def _proof_place(item: Missing) -> str:
    """Where on the page of the proof it is done."""
    if item.what == "proof test":
        return "tests"
    if item.what == "test load":
        return "load"
    return f"step-{item.address[0]}" if item.address[0] else "found"


_PLACES = {
    "step": ("job-{stage}", "#step-{key}"),
    "hold point": ("job-{stage}", "#step-{key}"),
    "choice": ("job-renew", "#part-{key}"),
    "not agreed": ("job-renew", "#part-{key}"),
    "agreed": ("job-renew", "#part-{key}"),
    "declined": ("job-quote", "#answer"),
    "quote answer": ("job-quote", "#answer"),
    "identity": ("job-booking", ""),
    "conflict": ("job", "#settle"),
    "stray": ("job-history", "#journal"),
}
"""Page and place on it, by what is missing."""


def _point(case: Case, item: Missing) -> str:
    say = case.visit.say
    point = next((p for p in case.points if p.address == item.address), None)
    if point is None:
        return item.sentence
    named = ", ".join(
        word for word in (say(point.part_name), say(point.name), say(point.place)) if word
    )
    why = item.sentence.rpartition(": ")[2].rstrip(".")
    return f"{named}: {say(why)}"


def _part(case: Case, key: str) -> str:
    return case.visit.say(case.design.part(key).name) if case.design else key


def _step(case: Case, item: Missing) -> str:
    plan = case.facts.strip if item.stage == "strip" else case.facts.rebuild
    steps = plan.steps if plan else ()
    return next((step.name for step in steps if step.key == item.address[0]), item.address[0])
