"""The report: what it says, that it is sound HTML and PDF, and that no name can break it."""

from __future__ import annotations

import itertools
import re
from html.parser import HTMLParser
from pathlib import Path
from types import ModuleType

import pytest

from borewright.documents import CAUTIONS, fit_report
from borewright.documents._names import plain
from borewright.documents._words import signed, summary_sentences
from borewright.errors import DocumentsError
from borewright.model import FitResult, TuningSummary
from borewright.model.results.tuning import ResonanceStatus

#: Signs that mean something to a page, a typesetter, a formula or a bidirectional line.
HOSTILE = (
    '<script>alert("x")</script> & </svg> --> #eval("1") $x_1$ *b* _i_ @ref \\n `c` 🎷😀 '
    "שלום مرحبا \u202e//[]{}"
)


class _Reader(HTMLParser):
    """Collects headings, texts, references and identifiers; checks that tags nest."""

    VOID = ("meta", "br", "link", "img", "hr", "input")

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[str] = []
        self.texts: list[str] = []
        self.ids: list[str] = []
        self.references: list[str] = []
        self.attributes: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        found = dict(attrs)
        self.attributes.append((tag, found))
        if found.get("id"):
            self.ids.append(str(found["id"]))
        self.references += [str(v) for k, v in attrs if k in ("href", "xlink:href", "src")]
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in self.VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"</{tag}> closes nothing"
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def _read(text: str) -> _Reader:
    reader = _Reader()
    reader.feed(text)
    reader.close()
    assert reader.open == []
    return reader


@pytest.fixture(scope="module")
def written(invented: ModuleType, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, bytes]:
    files = fit_report(
        tmp_path_factory.mktemp("report"), invented.clarinet(), invented.clarinet(),
        invented.fit_result(), invented.sensitivities(), invented.solids(),
        file="clarinet.toml, revision 3", files_made=["clarinet-fitted.toml"],
    )  # fmt: skip
    return files.html.read_text(encoding="utf-8"), files.pdf.read_bytes()


def test_it_says_what_a_maker_asks(written: tuple[str, bytes]) -> None:
    text = " ".join(_read(written[0]).texts)
    for words in (
        "35 of 39 standard notes from E3 to G6 lie within ±10 cents",
        "The worst is E6, 17.9 cents sharp",
        "Kept apart from the fit: throat Bb4, 12.3 cents flat",
        "Invented example, no real instrument",
        "clarinet.toml, revision 3",
        "A4 = 440 Hz, sounds 2 semitones below written",
        "Ask the key supplier for a register key whose cup reaches 1 mm higher.",
        "only 1.6 mm of wall is left between them",
        "largest finger hole 9.6 mm",
        "closed forms",
        "clarinet-fitted.toml",
        "barrel.step",
    ):
        assert words in text
    for caution in CAUTIONS:
        assert str(caution.text) in text


def test_every_fingering_has_its_row(written: tuple[str, bytes], invented: ModuleType) -> None:
    for note in invented.table(1).notes:
        row = re.search(rf"<tr><th[^>]*>{re.escape(note.fingering)}</th>.*?</tr>", written[0])
        assert row
        assert f"{note.target_hz:.2f}" in row.group(0)
        assert f"{note.sounding_hz:.2f}" in row.group(0)
        assert signed(note.cents) in row.group(0)


def test_the_page_is_self_contained_and_accessible(written: tuple[str, bytes]) -> None:
    html = written[0]
    reader = _read(html)
    assert '<html lang="en">' in html
    assert "prefers-color-scheme:dark" in html
    assert not re.search(r"""(src|href|url\()\s*=?\s*["']?https?:""", html)
    assert all(reference.startswith("#") for reference in reader.references)
    assert len(reader.ids) == len(set(reader.ids))
    assert {reference[1:] for reference in reader.references} <= set(reader.ids)
    levels = [int(tag[1]) for tag in reader.tags if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in itertools.pairwise(levels))
    pictures = [attributes for tag, attributes in reader.attributes if tag == "svg"]
    assert len(pictures) == 5
    assert all(a["role"] == "img" and a["aria-label"] for a in pictures)
    assert reader.tags.count("table") == reader.tags.count("caption") > 5


def test_the_pdf_is_one_with_pages_and_no_date(written: tuple[str, bytes]) -> None:
    pdf = written[1]
    assert pdf.startswith(b"%PDF")
    assert pdf.rstrip().endswith(b"%%EOF")
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == pytest.approx(9, abs=2)
    assert b"/CreationDate" not in pdf


def test_the_same_input_gives_the_same_bytes(
    written: tuple[str, bytes], invented: ModuleType, tmp_path: Path
) -> None:
    files = fit_report(
        tmp_path, invented.clarinet(), invented.clarinet(), invented.fit_result(),
        invented.sensitivities(), invented.solids(),
        file="clarinet.toml, revision 3", files_made=["clarinet-fitted.toml"],
    )  # fmt: skip
    assert files.html.read_text(encoding="utf-8") == written[0]
    assert files.pdf.read_bytes() == written[1]


def test_hostile_names_neither_break_nor_inject(invented: ModuleType, tmp_path: Path) -> None:
    # Copied in unchecked: a file would refuse some of these, a caller might not.
    instrument = invented.clarinet().model_copy(update={"name": HOSTILE})
    part = instrument.parts[1]
    names = ["<b>&", "#panic()", "$\\qq$", "*_@", "🎷", "שלום", "-->", '"];x', "\u202eab"]
    holes = [
        hole.model_copy(update={"name": name})
        for hole, name in zip(part.holes, names, strict=False)
    ]
    holes += part.holes[len(names) :]
    odd_part = part.model_copy(update={"holes": holes, "name": "</table>#import $"})
    parts = [instrument.parts[0], odd_part, *instrument.parts[2:]]
    odd = instrument.model_copy(update={"parts": parts, "note": HOSTILE})
    result = invented.fit_result(HOSTILE)
    finding = result.findings[0].model_copy(update={"what": HOSTILE, "place": "x" * 200})
    advice = result.out_of_reach[0].model_copy(update={"advice": HOSTILE})
    result = result.model_copy(update={"findings": [finding], "out_of_reach": [advice]})
    files = fit_report(
        tmp_path, odd, odd, result, invented.sensitivities(), file=HOSTILE, date=HOSTILE,
        files_made=[HOSTILE],
    )  # fmt: skip
    html = files.html.read_text(encoding="utf-8")
    reader = _read(html)
    assert "script" not in reader.tags
    assert "b" not in reader.tags
    assert "\u202e" not in html
    assert '<script>alert("x")</script>' in " ".join(reader.texts)
    assert files.pdf.read_bytes().startswith(b"%PDF")


def test_empty_results_and_a_tiny_pipe(invented: ModuleType, tmp_path: Path) -> None:
    notes = [
        invented.note("E3", "chalumeau", None, status=ResonanceStatus.NOT_FOUND),
    ]
    table = invented.table(1).model_copy(
        update={"notes": notes, "twelfths": [], "summary": TuningSummary.of(notes)}
    )
    result = FitResult(
        instrument="Tiny pipe", before=table, after=table, moved=[], out_of_reach=[],
        finished=False, rounds=1, seconds=0.0,
    )  # fmt: skip
    files = fit_report(tmp_path, invented.pipe(), invented.pipe(), result)
    text = " ".join(_read(files.html.read_text(encoding="utf-8")).texts)
    for words in (
        "nothing can be said of tuning",
        "No resonance was found for E3",
        ResonanceStatus.NOT_FOUND.value,
        "stopped after 1 round before it had settled",
        "Nothing moved.",
        "No pair of fingerings makes a twelfth.",
    ):
        assert words in text
    bare = result.model_copy(
        update={"after": table.model_copy(update={"notes": []}), "before": table}
    )
    files = fit_report(tmp_path / "bare", invented.pipe(), invented.pipe(), bare)
    assert files.pdf.read_bytes().startswith(b"%PDF")


def test_pictures_can_be_left_out_and_unknown_ones_are_refused(
    invented: ModuleType, tmp_path: Path
) -> None:
    files = fit_report(
        tmp_path, invented.clarinet(), invented.clarinet(), invented.fit_result(),
        pictures=("twelfths",),
    )  # fmt: skip
    assert files.html.read_text(encoding="utf-8").count("<svg") == 1
    with pytest.raises(DocumentsError, match="no picture called 'portrait'"):
        fit_report(
            tmp_path, invented.pipe(), invented.pipe(), invented.fit_result(),
            pictures=("portrait",),
        )  # fmt: skip


def test_the_summary_never_promises_more_than_the_table(invented: ModuleType) -> None:
    notes = [invented.note("E3", "chalumeau", 3.04), invented.note("F3", "chalumeau", -1.0)]
    table = invented.table(1).model_copy(
        update={"notes": notes, "summary": TuningSummary.of(notes)}
    )
    first, second, *_ = map(str, summary_sentences(table, table, 10.0))
    assert first == (
        "After the fit every standard note from E3 to F3 lies within 3.1 cents of its target."
    )
    assert second == "The furthest is E3, 3.0 cents sharp."


def test_words_for_figures() -> None:
    assert [signed(v) for v in (3.14, -3.14, 0.04, -0.04)] == ["+3.1", "−3.1", "0.0", "0.0"]
    assert plain(" a\n\tb\u202e\u0000c ") == "a b c"
