"""One request to a page: who asks, in which language and units, with which form."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from typing import Any, Literal

import attrs
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from hoistwright.language import Language, marked
from hoistwright.quantity import Dimension
from hoistwright.web.addresses import as_part, from_part
from hoistwright.web.bench import Bench
from hoistwright.web.records.accounts import Account
from hoistwright.web.records.sessions import Session
from hoistwright.web.rights import Right, may
from hoistwright.web.showing import shown, shown_load
from hoistwright.web.templating import path_of, render

_KEPT = "\n\t"


@attrs.define(kw_only=True)
class Visit:
    """Handed to every page function. `account` and `session` are None before signing in."""

    request: Request
    bench: Bench
    language: Language
    id: str
    """Of the session, or of the visitor before one."""
    is_new: bool = False
    """Whether the browser still has to be told that id."""
    account: Account | None = None
    session: Session | None = None
    form: FormData = attrs.Factory(FormData)
    json: Any = None
    """The body of a request made by script, if it was JSON."""
    new_id: str = ""
    """Set to give the browser another id (signing in, changing person, signing out)."""
    next_words: str = ""

    @property
    def person(self) -> Account:
        """Who is signed in. Pages that are not open have somebody, always."""
        if self.account is None:
            raise RuntimeError("an open page asked who is signed in")
        return self.account

    @property
    def units(self) -> Literal["mm", "in"]:
        return self.account.units if self.account else "mm"

    @property
    def now(self) -> datetime.datetime:
        return self.bench.now()

    @property
    def address(self) -> str:
        return self.request.client.host if self.request.client else ""

    def may(self, right: Right) -> bool:
        return may(self.account, right)

    def say(self, text: str, /, **values: object) -> str:
        """A text in the language of the person."""
        return self.language.say(text, **values)

    def figure(self, si: float | None, dimension: Dimension, unit: str) -> str:
        """An SI figure in the units and with the decimal mark of the person."""
        return shown(si, dimension, unit, self.units, self.language)

    def load(self, kilograms: float | None) -> str:
        """A rated load as the person reads it."""
        return shown_load(kilograms, self.units, self.language)

    def length(self, metres: float | None) -> str:
        """A length of a part as the person reads it."""
        return self.figure(metres, Dimension.LENGTH, "mm")

    def stage(self, name: str) -> str:
        """A stage of a job. The stage "renew" is not the verdict of the same name."""
        return self.say(marked("renewal") if name == "renew" else name)

    def hoist_name(self, maker: str, model: str) -> str:
        """Maker and model as one name, where they are known."""
        known = [word for word in (maker, model) if word and word != "not known"]
        return " ".join(known) or self.say("maker unknown")

    def day_of(self, moment: str) -> str:
        """The day of a moment in the store's writing; nothing for none."""
        if not moment:
            return ""
        return self.language.date(datetime.datetime.fromisoformat(moment).astimezone().date())

    def said(self, options: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
        """Options of a form in the language of the person."""
        return [(key, self.say(words)) for key, words in options]

    # what was sent

    def field(self, name: str) -> str:
        """A text of the form, trimmed and without control characters; empty where missing."""
        value = self.form.get(name, "")
        return clean(value) if isinstance(value, str) else ""

    def fields(self, name: str) -> tuple[str, ...]:
        return tuple(clean(v) for v in self.form.getlist(name) if isinstance(v, str))

    def upload(self, name: str) -> UploadFile | None:
        value = self.form.get(name)
        return value if isinstance(value, UploadFile) and value.filename else None

    def uploads(self, name: str) -> tuple[UploadFile, ...]:
        """All files of a field that takes several."""
        sent = self.form.getlist(name)
        return tuple(one for one in sent if isinstance(one, UploadFile) and one.filename)

    def part(self, name: str) -> str:
        """A part of the address: the name of a job, of a hoist ..."""
        return clean(from_part(str(self.request.path_params.get(name, ""))))

    def query(self, name: str) -> str:
        return clean(self.request.query_params.get(name, ""))

    # what is answered

    def page(self, template: str, *, status: int = 200, **context: Any) -> Response:
        """A page made from a template beside the others in `templates/`."""
        return HTMLResponse(render(self, template, context), status_code=status)

    def go(self, name: str, /, **parts: str) -> Response:
        """To another page, after a form was taken."""
        return RedirectResponse(self.url(name, **parts), status_code=303)

    def go_to(self, path: str) -> Response:
        """To a path of the bench; anything that is not one leads to the first page."""
        inside = path.startswith("/") and not path.startswith(("//", "/\\"))
        return RedirectResponse(path if inside and path.isascii() else "/", status_code=303)

    def url(self, name: str, /, **parts: str) -> str:
        """The address of a page by its name; see `addresses.as_part`."""
        return path_of(name).format(**{key: as_part(value) for key, value in parts.items()})

    def tell(self, text: str) -> None:
        """Show a sentence at the top of the next page."""
        self.next_words = text

    def answer(self, value: Any, status: int = 200) -> Response:
        """JSON, for script."""
        return JSONResponse(value, status_code=status)


def clean(text: str) -> str:
    """Trimmed, without what is no writing: control characters and halves of characters."""
    if text.isprintable():
        return text.strip()
    kept = (c for c in text if c.isprintable() or c in _KEPT)
    return "".join(kept).replace("\r\n", "\n").strip()
