"""What every answer tells the browser of it: who may frame, read and keep it, and what a page may load and run."""

import base64
import hashlib
import re

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from planner.server.ahead import links

HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}

CONTENT = {
    "default-src": "'none'",
    "base-uri": "'self'",
    "connect-src": "'self'",
    "font-src": "'self' data:",
    "form-action": "'none'",
    "frame-ancestors": "'none'",
    "img-src": "'self' data: blob:",
    "manifest-src": "'self'",
    "script-src": "'self'",
    "style-src": "'self' 'unsafe-inline'",
    "worker-src": "'self' blob:",
}
"""Where a page may load what from. The framework writes styles into the page as it runs. Charts are drawn with their
expressions interpreted (`pages.EMBEDDED`), so that for them no script is made of text in the browser.
"""

KEPT = ("assets", "health")
"""Where there is nothing of a house: files that are named by their contents, and that the server is well. The framework
never reads that answer to its end, so that one not to be kept would hold the browser's attention for good.
"""

_SCRIPT = re.compile(rb"<script\b([^>]*)>(.*?)</script>", re.DOTALL | re.IGNORECASE)


def content_policy(page: bytes) -> str:
    """The content policy of an HTML page: of the scripts that stand in it those run that stood in it when it left.

    >>> content_policy(b"<p>").split("; ")[0], "sha256-" in content_policy(b"<script>let a = 1</script>")
    ("default-src 'none'", True)
    """
    inline = [body for attributes, body in _SCRIPT.findall(page) if b"src=" not in attributes]
    hashes = {base64.b64encode(hashlib.sha256(body).digest()).decode() for body in inline}
    scripts = [CONTENT["script-src"], *(f"'sha256-{found}'" for found in sorted(hashes))]
    return "; ".join(f"{name} {sources}" for name, sources in (CONTENT | {"script-src": " ".join(scripts)}).items())


class Policy:
    """Adds the headers to every answer; an HTML page is held back until its scripts are known."""

    def __init__(self, app: ASGIApp):
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        _, *rest = scope["path"].removeprefix("/").split("/")
        held: list[Message] = []
        page = bytearray()

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                dress(headers, is_kept=(rest or [""])[0] in KEPT)
                if headers.get("content-type", "").startswith("text/html"):
                    headers["Link"] = links()
                    held.append(message)
                    return
            elif held:
                page.extend(message.get("body", b""))
                if message.get("more_body"):
                    return
                MutableHeaders(scope=held[0])["Content-Security-Policy"] = content_policy(bytes(page))
                await send(held.pop())
                message = {**message, "body": bytes(page)}
            await send(message)

        await self._app(scope, receive, dressed)


def dress(headers: MutableHeaders, is_kept: bool) -> None:
    """What goes for every answer, and that none which may show something of a house stays in the browser.

    The framework lets every page of the web read its answers; here none but its own does.
    """
    for name in [name for name in headers if name.startswith("access-control-")]:
        del headers[name]
    for name, value in HEADERS.items():
        headers[name] = value
    if not is_kept:
        headers["Cache-Control"] = "no-store"
        del headers["etag"]
