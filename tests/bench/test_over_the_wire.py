"""The running service: paths, hosts and passwords, asked over the wire."""

from __future__ import annotations

import http.client
import json
from urllib.parse import urlsplit

import pytest

pytestmark = pytest.mark.slow  # a server each


def came_in(bench):
    """The cookie that the token of this start buys."""
    parts = urlsplit(bench.url)
    connection = http.client.HTTPConnection(parts.hostname, parts.port, timeout=60)
    connection.request("GET", f"/?token={bench.token}")
    answer = connection.getresponse()
    assert answer.status == 303
    assert answer.getheader("location") == "/"
    cookie = answer.getheader("set-cookie").split(";")[0]
    connection.close()
    return cookie


def ask(bench, path, method="GET", body=None, **headers):
    """Status and text of an answer; the path is sent as it is, dots and all."""
    parts = urlsplit(bench.url)
    connection = http.client.HTTPConnection(parts.hostname, parts.port, timeout=60)
    names = {name.replace("_", "-"): value for name, value in headers.items()}
    if bench.token and "Cookie" not in names:
        names["Cookie"] = came_in(bench)
    connection.request(method, path, body, names)
    answer = connection.getresponse()
    text = answer.read().decode("utf-8", "replace")
    connection.close()
    return answer, text


def test_no_path_leaves_the_folder_and_no_other_page_comes_in(open_bench, chalumeau):
    (chalumeau.parent / "secret.toml").write_text("secret", encoding="utf-8")
    (chalumeau / "link.toml").symlink_to(chalumeau.parent / "secret.toml")
    bench = open_bench(chalumeau)
    answer, text = ask(bench, "/files/chalumeau.toml")
    assert answer.status == 200
    assert "Class chalumeau" in text
    for path in (
        "/files/../secret.toml",
        "/files/%2e%2e/secret.toml",
        "/files/..%2fsecret.toml",
        "/files/%252e%252e%252fsecret.toml",
        f"/files/{chalumeau.parent}/secret.toml",
        "/files/link.toml",
        "/files/.bench/timeline.json",
        "/files/absent.toml",
    ):
        answer, text = ask(bench, path)
        assert text.strip() != "secret", path
        assert answer.status != 200 or "<html" in text, path
    for headers in ({"Host": "evil.example"}, {"Origin": "http://evil.example"}):
        answer, text = ask(bench, "/", **headers)
        assert answer.status == 403
        assert "This address is not the bench" in text
    answer, text = ask(bench, "/receive/none", "POST", b"x", x_file_name="a.toml")
    # The page that asked says it in its reader's language.
    assert json.loads(text) == {"gone": "yes"}
    assert sorted(path.name for path in chalumeau.iterdir() if path.name != "README.md") == [
        ".bench",
        "chalumeau.toml",
        "fingerings.csv",
        "link.toml",
    ]


def test_with_a_password_nothing_is_shown_before(open_bench, page, chalumeau, complaints):
    complaints.expected = ("401",)
    bench = open_bench(chalumeau, BOREWRIGHT_BENCH_PASSWORD="Ahorn 5/8")
    for path in ("/", "/files/chalumeau.toml", "/_nicegui_ws/socket.io/?EIO=4&transport=polling"):
        answer, text = ask(bench, path)
        assert answer.status == 401
        assert "chalumeau" not in text
    page.goto(bench.url)
    page.fill("input[type=password]", "Birke")
    page.click("button")
    page.wait_for_selector("text=That was not the password.")
    page.fill("input[type=password]", "Ahorn 5/8")
    page.click("button")
    page.wait_for_selector(".bw-note")
