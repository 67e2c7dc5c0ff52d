"""Photos from the tablet's camera, kept by their content."""

from __future__ import annotations

from starlette.responses import Response

from hoistwright.job.entry import Draft, new_id
from hoistwright.job.events import PhotoAttached
from hoistwright.store.errors import PictureError
from hoistwright.web.endpoint import wants_json
from hoistwright.web.page import Page
from hoistwright.web.pages.job.case import case_of
from hoistwright.web.pages.job.entering import append, known, same_person
from hoistwright.web.pages.job.question import Question
from hoistwright.web.pages.job.said import seen
from hoistwright.web.refused import Refused
from hoistwright.web.visit import Visit


async def read(visit: Visit) -> bytes:
    upload = visit.upload("photo")
    return await upload.read() if upload else b""


async def take(visit: Visit) -> Response:
    """Keep a photo and enter it. Sent twice, it is entered once."""
    from starlette.concurrency import run_in_threadpool

    data = await read(visit)
    return await run_in_threadpool(_keep, visit, data)


def _keep(visit: Visit, data: bytes) -> Response:
    case = case_of(visit)
    same_person(visit)
    entered = known(case, visit.field("id"))
    if entered is None:
        try:
            kept = visit.bench.store.attach(data)
        except PictureError as error:
            raise Refused(422, str(error)) from None
        made = append(
            case,
            Draft(
                id=visit.field("id") or new_id(),
                by=visit.person.key,
                seen=seen(visit),
                body=PhotoAttached(
                    content=kept.content,
                    media_type=kept.media_type,
                    part=visit.field("part")[:80],
                    feature=visit.field("feature")[:120],
                    place=visit.field("place")[:120],
                    caption=visit.field("caption")[:300],
                ),
            ),
        )
        if isinstance(made, Question):
            raise Refused(422, made.words)
        entered = made
    if wants_json(visit.request):
        return visit.answer({"entered": entered.id, "seq": entered.seq})
    return visit.go_to(visit.field("next") or visit.url("job", job=case.job))


def show(visit: Visit) -> Response:
    """A photo of the job; no other."""
    case = case_of(visit)
    content = visit.part("content")
    mine = {getattr(photo.body, "content", "") for photo in case.state.photos}
    found = visit.bench.store.attachment(content) if content in mine else None
    if found is None:
        raise Refused(404, visit.say("There is no such photo in this job."))
    about, data = found
    return Response(
        data,
        media_type=about.media_type,
        headers={"cache-control": "private, max-age=31536000, immutable"},
    )


PAGES = (
    Page(name="job-photos", path="/jobs/{job}/photos", take=take),
    Page(name="job-photo", path="/jobs/{job}/photos/{content}", show=show),
)
