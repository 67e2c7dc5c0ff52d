"""Signed cookies, and the token that every form carries against forged requests."""

from __future__ import annotations

import hmac
import secrets

from itsdangerous import BadData, URLSafeSerializer, URLSafeTimedSerializer
from starlette.requests import Request
from starlette.responses import Response

COOKIE = "bench"
SAID = "bench-said"
FIELD = "_token"
HEADER = "x-bench-token"
MOST_READ = 2000


class Tokens:
    """What is made with the signing key of the bench."""

    def __init__(self, key: str) -> None:
        self._key = key.encode()
        self._cookies = URLSafeSerializer(key, salt="cookie")
        self._read: dict[str, str] = {}
        """Cookies held against their signature before."""
        self._said = URLSafeTimedSerializer(key, salt="said")

    def new_visitor(self) -> str:
        """The id of somebody who has not signed in."""
        return "v" + secrets.token_urlsafe(24)

    def read(self, request: Request) -> str:
        """The id in the cookie of a request; empty where there is none of ours."""
        cookie = request.cookies.get(COOKIE, "")
        if cookie not in self._read:
            if len(self._read) > MOST_READ:
                self._read.clear()
            self._read[cookie] = self._checked(cookie)
        return self._read[cookie]

    def _checked(self, cookie: str) -> str:
        try:
            found = self._cookies.loads(cookie)
        except BadData:
            return ""
        return found if isinstance(found, str) else ""

    def write(self, request: Request, response: Response, id_: str) -> None:
        response.set_cookie(
            COOKIE,
            str(self._cookies.dumps(id_)),
            httponly=True,
            samesite="lax",
            secure=request.url.scheme == "https",
        )

    def form_token(self, id_: str) -> str:
        """The token of the forms in one session."""
        return hmac.new(self._key, b"form " + id_.encode(), "sha256").hexdigest()

    def fits(self, id_: str, token: str) -> bool:
        expected = self.form_token(id_).encode()
        return bool(id_) and hmac.compare_digest(expected, token.encode("utf-8", "replace"))

    def say_next(self, request: Request, response: Response, text: str) -> None:
        """Keep a sentence for the next page."""
        response.set_cookie(
            SAID,
            str(self._said.dumps(text[:400])),
            max_age=60,
            httponly=True,
            samesite="lax",
            secure=request.url.scheme == "https",
        )

    def said(self, request: Request) -> str:
        try:
            found = self._said.loads(request.cookies.get(SAID, ""), max_age=60)
        except BadData:
            return ""
        return found if isinstance(found, str) else ""


def same_site(request: Request) -> bool:
    """Whether the browser says that a request comes from our own pages (or says nothing)."""
    site = request.headers.get("sec-fetch-site", "same-origin")
    if site not in ("same-origin", "none"):
        return False
    origin = request.headers.get("origin")
    return origin is None or origin == f"{request.url.scheme}://{request.url.netloc}"
