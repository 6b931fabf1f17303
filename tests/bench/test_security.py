"""Attacks in a real browser: framing, foreign origins, no token, roles, encryption, planted script.

The points are those of the OWASP Application Security Verification Standard 4.0.3, level 1, that a
browser can try; `docs/security.md` goes through all of them.
"""

from __future__ import annotations

import contextlib
import http.server
import json
import ssl
import threading
import urllib.request

import pytest

from borewright.ledger import Ledger

pytestmark = pytest.mark.slow  # a server and a real browser each

PLANTED = "<img src=x onerror=window.planted=1><script>window.planted=1</script>"
PLANTED_WORD = "<svg/onload=window.planted=1>"


@contextlib.contextmanager
def foreign_site(page_text: str):
    """Another site on this machine: another port is another origin."""

    class Site(http.server.BaseHTTPRequestHandler):
        def do_GET(self):
            self.send_response(200)
            self.send_header("content-type", "text/html")
            self.end_headers()
            self.wfile.write(page_text.encode())

        def log_message(self, *_):
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Site)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


def test_no_other_site_frames_it_asks_it_or_listens_to_it(
    open_bench, new_page, chalumeau, complaints
):
    complaints.expected = ("Failed", "frame", "Content Security", "WebSocket", "403", "CORS", "401")
    bench = open_bench(chalumeau)
    page = new_page()
    page.goto(bench.url)
    page.wait_for_selector(".bw-brand")  # this browser holds the cookie of a session
    text = f"""<iframe src="{bench.url}" id="f"></iframe><script>
      const told = [];
      fetch('{bench.url}files/chalumeau.toml', {{credentials: 'include'}})
        .then(a => a.text()).then(t => told.push('read ' + t)).catch(() => told.push('fetch no'));
      fetch('{bench.url}receive/x', {{method: 'POST', body: 'x', credentials: 'include',
        mode: 'no-cors'}}).then(() => told.push('sent')).catch(() => told.push('post no'));
      const socket = new WebSocket(
        '{bench.url.replace("http", "ws")}_nicegui_ws/socket.io/?EIO=4&transport=websocket');
      socket.onopen = () => told.push('socket open');
      socket.onerror = () => told.push('socket no');
      window.told = told;
    </script>"""
    with foreign_site(text) as site:
        other = page.context.new_page()
        other.goto(site)
        other.wait_for_function("window.told.length >= 3")
        told = other.evaluate("window.told")
        assert "socket no" in told
        assert "fetch no" in told
        assert not [each for each in told if each.startswith("read")]
        frame = other.frames[1]
        assert frame.locator(".bw-brand").count() == 0
        other.close()


def test_without_the_token_nobody_sees_anything(open_bench, browser, chalumeau):
    bench = open_bench(chalumeau)
    context = browser.new_context()
    page = context.new_page()
    answer = page.goto(f"{bench.url}?view=design")
    assert answer.status == 401
    assert "chalumeau" not in page.content()
    page.goto(f"{bench.url}?view=design&token={bench.token}")
    page.wait_for_selector(".bw-brand")
    assert "token" not in page.url
    assert context.cookies()[0]["httpOnly"]
    assert context.cookies()[0]["sameSite"] == "Strict"
    # Another bench on this machine has its own cookie, and this one does not open it.
    other = open_bench(chalumeau.parent / "other")
    assert page.goto(other.url).status == 401
    context.close()


def test_a_viewer_looks_the_bench_works_the_owner_owns(open_bench, new_page, chalumeau, complaints):
    complaints.expected = ("401", "403")
    Ledger(chalumeau / "workshop.ledger", create=True).engine.dispose()
    bench = open_bench(
        chalumeau,
        BOREWRIGHT_BENCH_PASSWORD="Ahorn",
        BOREWRIGHT_BENCH_WORK_PASSWORD="Birke",
        BOREWRIGHT_BENCH_VIEW_PASSWORD="Eibe",
    )

    def come_in(password, view):
        page = new_page()
        page.goto(bench.url)
        page.fill("input[type=password]", password)
        page.click("button")
        page.wait_for_selector(".bw-brand")
        page.goto(f"{bench.url}?view={view}")
        return page

    viewer = come_in("Eibe", "shop")
    viewer.wait_for_selector("[data-mark=backup]")
    before = (chalumeau / "chalumeau.toml").read_bytes()
    for button in ("backup", "export"):
        viewer.click(f"[data-mark={button}]")
        viewer.wait_for_selector("[data-mark=message]:has-text('viewer may not do this')")
    viewer.fill("[data-mark=who]", "Eve")
    assert viewer.request.get(f"{bench.url}files/chalumeau.toml").status == 200
    assert viewer.request.get(f"{bench.url}files/workshop.ledger").status == 404
    assert viewer.request.post(f"{bench.url}receive/x", data="x").status == 403
    viewer.goto(f"{bench.url}?view=design")
    viewer.wait_for_selector("[data-mark=settings]")
    viewer.click("[data-mark=settings]")
    assert (chalumeau / "chalumeau.toml").read_bytes() == before

    worker = come_in("Birke", "shop")
    worker.wait_for_selector("[data-mark=backup]")
    worker.click("[data-mark=backup]")
    worker.wait_for_selector("[data-mark=message]:has-text('bench may not do this')")
    assert worker.request.get(f"{bench.url}files/workshop.ledger").status == 404

    owner = come_in("Ahorn", "shop")
    owner.wait_for_selector("[data-mark=backup]")
    with owner.expect_download():
        owner.click("[data-mark=backup]")
    assert owner.request.get(f"{bench.url}files/workshop.ledger").status == 200


def test_a_tablet_is_served_encrypted(open_bench, browser, chalumeau, tmp_path):
    kept = tmp_path / "data"
    bench = open_bench(chalumeau, "--encrypted", XDG_DATA_HOME=str(kept))
    assert bench.url.startswith("https://")
    key = kept / "borewright" / "bench.key"
    assert key.stat().st_mode & 0o777 == 0o600
    # A client that trusts this certificate and nothing else finds it sound, by name and date.
    trust = ssl.create_default_context(cafile=str(kept / "borewright" / "bench.crt"))
    address = f"{bench.url}?token={bench.token}"
    client = urllib.request.build_opener(
        urllib.request.HTTPSHandler(context=trust), urllib.request.HTTPCookieProcessor()
    )
    with client.open(address) as answer:
        assert answer.status == 200
    context = browser.new_context(ignore_https_errors=True)
    page = context.new_page()
    page.goto(address)
    page.wait_for_selector(".bw-brand")
    cookie = context.cookies()[0]
    assert cookie["secure"]
    assert cookie["httpOnly"]
    page.click("[data-mark=view-play]")  # the live connection is encrypted too
    page.wait_for_selector("h1:has-text('Play test')")
    context.close()
    # The same certificate serves the next start.
    before = (kept / "borewright" / "bench.crt").read_bytes()
    again = open_bench(chalumeau.parent / "next", "--encrypted", XDG_DATA_HOME=str(kept))
    assert again.url.startswith("https://")
    assert (kept / "borewright" / "bench.crt").read_bytes() == before


def test_script_in_every_name_runs_nowhere(open_bench, new_page, chalumeau):
    """Names of instrument, part, hole and every text of the ledger, in every view."""
    file = chalumeau / "chalumeau.toml"
    text = file.read_text(encoding="utf-8")
    text = text.replace('name = "Class chalumeau"', f"name = {json.dumps(PLANTED)}", 1)
    text = text.replace('name = "head"', f"name = {json.dumps(PLANTED[:58])}", 1)
    file.write_text(text, encoding="utf-8")
    book = Ledger(chalumeau / "workshop.ledger", create=True)
    sha256 = book.keep_file(PLANTED[:100], b"x")
    who = PLANTED[:100]
    for kind, row in (
        ("design", {"code": PLANTED, "name": PLANTED, "file": sha256, "file_name": PLANTED,
                    "parts": PLANTED_WORD}),
        ("source", {"code": PLANTED, "contact": PLANTED, "note": PLANTED}),
        ("lot", {"code": PLANTED, "stuff": "keywork", "description": PLANTED}),
        ("order", {"code": PLANTED, "customer": PLANTED, "contact": PLANTED, "quantity": 1,
                   "currency": "EUR", "extras": PLANTED, "note": PLANTED}),
        ("batch", {"code": PLANTED, "design": PLANTED, "quantity": 2}),
        ("instrument", {"code": PLANTED, "design": PLANTED, "order": PLANTED, "batch": PLANTED}),
    ):  # fmt: skip
        book.add(kind, row, who=who, reason=PLANTED[:100])
    bench = open_bench(chalumeau)
    page = new_page()
    for view in ("design", "fit", "print", "play", "sound", "shop"):
        page.goto(f"{bench.url}?view={view}&who={PLANTED_WORD}&serial={PLANTED_WORD}")
        page.wait_for_selector(".bw-brand")
        page.wait_for_selector("h1")
        page.wait_for_timeout(700)
        assert page.evaluate("window.planted") is None, view
