"""What the server keeps others from, seen from a real browser, and what it lets the apps do."""

import http.server
import threading
from urllib.parse import urlsplit

import pytest

from planner.apps.tabs import TABS
from tests.browser.driving import opened, tab, until, visitor

ELSEWHERE = """<!doctype html><title>Elsewhere</title><a href="{address}">a link</a><iframe src="{page}"></iframe>
<script>
  window.found = {{}};
  fetch("{page}", {{credentials: "include"}}).then(() => found.page = "read", () => found.page = "refused");
  const page = new WebSocket("{socket}");
  page.onmessage = () => found.socket = "read";
  page.onerror = () => found.socket ||= "refused";
</script>"""


@pytest.fixture
def elsewhere():
    """Another site, at another name of this machine, that shows a page; its address."""
    content = {"page": b""}

    class Site(http.server.BaseHTTPRequestHandler):
        def do_GET(self):
            self.send_response(200)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(content["page"])

        def log_message(self, *given):
            pass

    site = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Site)
    threading.Thread(target=site.serve_forever, daemon=True).start()

    def show(page):
        content["page"] = page.encode()
        return f"http://localhost:{site.server_port}/"

    yield show
    site.shutdown()


def test_another_site_reads_and_frames_nothing_and_may_link(serve, elsewhere, chromium):
    served = serve("review")
    socket = f"ws://{urlsplit(served.url).netloc}/review/ws?session_id=s_1"
    address = elsewhere(ELSEWHERE.format(address=served.url, page=f"{served.page}/", socket=socket))
    context = chromium.new_context()
    try:
        page = context.new_page()
        page.goto(served.url)
        page.locator("canvas, svg.marks").first.wait_for()
        page.goto(address)
        until(page, lambda: page.evaluate("Object.keys(found).length") == 2)
        assert page.evaluate("found") == {"page": "refused", "socket": "refused"}
        framed = page.frames[1]
        assert framed.url.startswith("chrome-error") and "Thornapple" not in framed.content()
        page.get_by_role("link", name="a link").click()
        page.locator("canvas, svg.marks").first.wait_for()
        assert page.url == f"{served.page}/"
    finally:
        context.close()


def test_a_link_leads_in_where_the_browser_has_not_been(serve, elsewhere, chromium):
    served = serve("review")
    context = chromium.new_context()
    try:
        page = context.new_page()
        page.goto(elsewhere(f"<a href='{served.url}'>a link</a>"))
        page.get_by_role("link", name="a link").click()
        page.locator("canvas, svg.marks").first.wait_for()
        assert page.url == f"{served.page}/"
        assert all(cookie["httpOnly"] and cookie["sameSite"] == "Strict" for cookie in context.cookies())
        assert page.evaluate("document.cookie") == ""
    finally:
        context.close()


def test_what_one_client_says_no_other_reads(serve, folder, chromium):
    served = serve("review")
    said, seen = chromium.new_context(), chromium.new_context()
    try:
        first = said.new_page()
        first.goto(served.url)
        first.get_by_label("Your name").fill("Ottilie")
        first.get_by_label("Anything to add?").fill("between ourselves")
        first.get_by_role("button", name="Keep it").click()
        first.get_by_role("cell", name="between ourselves").wait_for()
        first.reload()
        first.get_by_role("cell", name="between ourselves").wait_for()
        assert list((folder / "reviews").glob(f"* Ottilie {visitor(first)}.jsonl"))
        second = seen.new_page()
        second.goto(served.url)
        second.get_by_role("row", name="Library").wait_for()
        assert "between ourselves" not in second.content()
    finally:
        said.close()
        seen.close()


@pytest.mark.parametrize("app", ["design", "review", "compare"])
@pytest.mark.parametrize("width", [1440, 390])
def test_an_app_runs_under_its_policies_without_a_word_in_the_console(serve, chromium, app, width):
    context, errors = chromium.new_context(viewport={"width": width, "height": 900}), []
    try:
        page = context.new_page()
        page.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(serve(app).url)
        page.locator("canvas, svg.marks").first.wait_for()
        if app == "design":
            for name in TABS:
                tab(page, name)
                page.wait_for_timeout(1500)
            page.locator(".bd-plan").wait_for()
        assert "Content Security Policy" not in page.content()
        assert errors == []
    finally:
        context.close()


def test_a_page_that_has_lost_its_key_says_what_to_do(serve, chromium):
    context = chromium.new_context()
    try:
        page = context.new_page()
        page.goto(f"{serve('design').page}/")
        assert "opens by the whole address that the planner printed" in page.content()
    finally:
        context.close()


def test_a_room_is_picked_on_the_plan_where_charts_are_interpreted(serve, page):
    opened(page, serve("design"))
    box = page.locator("canvas, svg.marks").first.bounding_box()
    page.mouse.click(box["x"] + 0.39 * box["width"], box["y"] + 0.67 * box["height"])
    tab(page, "One room")
    page.get_by_role("heading", name="Dining Room: tier").wait_for()
