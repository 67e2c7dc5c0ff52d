"""Headers on every answer, and a bound on what may be sent."""

from __future__ import annotations

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    ]
)

HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=()",
    "cross-origin-resource-policy": "same-origin",
}

LARGEST_BODY = 32 * 1024 * 1024


class SafeHeaders:
    """Adds the headers. Pages are not to be kept by the browser unless they say so."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
                headers.setdefault("cache-control", "no-store")
            await send(message)

        await self.app(scope, receive, with_headers)


class BoundedBody:
    """Refuses what is larger than any photo, before and while it is read."""

    def __init__(self, app: ASGIApp, largest: int = LARGEST_BODY) -> None:
        self.app, self.largest = app, largest

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        told = dict(scope["headers"]).get(b"content-length", b"0")
        if not told.isdigit() or int(told) > self.largest:
            await _refuse(send)
            return
        read = 0

        async def bounded() -> Message:
            nonlocal read
            message = await receive()
            read += len(message.get("body", b""))
            if read > self.largest:
                return {"type": "http.disconnect"}
            return message

        await self.app(scope, bounded, send)


async def _refuse(send: Send) -> None:
    text = b"More was sent than the bench takes: 32 MB at most."
    headers = [(b"content-type", b"text/plain"), (b"content-length", str(len(text)).encode())]
    await send({"type": "http.response.start", "status": 413, "headers": headers})
    await send({"type": "http.response.body", "body": text})
