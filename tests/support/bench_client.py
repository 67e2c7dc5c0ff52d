"""Visiting the bench without a browser: signed in, and with the form token where wanted."""

from __future__ import annotations

import re
from collections.abc import Mapping

import attrs
from bench_live import PASSWORD
from httpx2 import Response
from starlette.testclient import TestClient

from hoistwright.web.app import bench_app
from hoistwright.web.bench import Bench


@attrs.define
class Visitor:
    """A client with its cookies."""

    client: TestClient

    def get(self, path: str) -> Response:
        return self.client.get(path)

    def token(self, path: str = "/help") -> str:
        found = re.search(r'bench-token" content="([0-9a-f]+)"', self.client.get(path).text)
        assert found is not None
        return found[1]

    def post(self, path: str, fields: Mapping[str, str | list[str]]) -> Response:
        """Send a form as our own page would."""
        return self.client.post(path, data={"_token": self.token(), **fields})


def visitor(bench: Bench, name: str = "") -> Visitor:
    """Somebody at the bench, signed in where a name is given. Failures of ours are raised."""
    client = TestClient(bench_app(bench), follow_redirects=False)
    made = Visitor(client)
    if name:
        answer = made.post("/sign-in", {"name": name, "password": PASSWORD})
        assert answer.status_code == 303, answer.text
    return made
