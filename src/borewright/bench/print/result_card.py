"""What the print job made: findings with their places, mass and time, advice, files."""

from __future__ import annotations

from pathlib import Path

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.print.body_map import BodyMap
from borewright.bench.print.making import Made
from borewright.bench.print.places import places_of
from borewright.bench.print.scene import BodyScene
from borewright.bench.widgets import findings_list, heading, table, text
from borewright.bench.widgets.links import file_link
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.model import Finding, Severity
from borewright.words import listed, say, say_many


class ResultCard:
    """One answer of the print job, as the folder keeps it."""

    def __init__(self, page: Page, made: Made, old: bool) -> None:
        self.page, self._made = page, made
        if old:
            text(_("The instrument was changed since: make the files again."), tag="strong").props(
                'data-mark="old"'
            )
        self._findings()
        self._estimate()
        self._advice()
        self._files()

    def _findings(self) -> None:
        bench = self.page.workbench
        instrument = bench.instrument
        assert instrument is not None
        heading(_("Findings"))
        found = self._made.findings
        faults = sum(each.severity is Severity.FAULT for each in found)
        if faults and self._made.despite_faults:
            text(
                _.tell(
                    say_many(
                        "Printed in spite of {count} fault: somebody said to go on.",
                        "Printed in spite of {count} faults: somebody said to go on.",
                        faults,
                    )
                ),
                tag="strong",
            ).props('data-mark="despite-told"')
        self._map = BodyMap(instrument, bench.survey)
        self._said = text("").props('role="status" data-mark="shown"').classes("bw-shown")
        self._scene = BodyScene(self.page, self._made)
        findings_list(found, self._show)
        wanted = self.page.selected.get("finding", "")
        for finding in found:
            if wanted and str(finding.what).startswith(wanted):
                self._show(finding)
                break

    def _show(self, finding: Finding) -> None:
        bench = self.page.workbench
        assert bench.instrument is not None
        pieces = {
            piece: split.part for split in self._made.splits for piece in (split.upper, split.lower)
        }
        places = places_of(finding, bench.instrument, bench.survey, pieces)
        words = f"{_.place(finding.place)}: {_.tell(finding.what)}"
        if not places.found:
            words = _("{finding} (no place on the body)", finding=words)
        self._map.show(places, words)
        self._scene.show(places)
        self._said.set_text(words)
        self.page.select(finding=str(finding.what)[:60])
        self._map.run_method("come_into_sight")

    def _estimate(self) -> None:
        heading(_("Mass, time and cost"))
        total = self._made.estimate
        stands = {each.part: each for each in self._made.standings}
        rows: list[tuple[str, ...]] = [
            (
                each.part,
                _.tell(stands[each.part].down.words),
                decimal(stands[each.part].height_mm, 0),
                decimal(each.mass_g, 0),
                decimal(each.filament_m, 1),
                decimal(each.hours, 1),
                decimal(each.cost, 2),
            )
            for each in total.parts
        ]
        sums = ("mass_g", 0), ("filament_m", 1), ("hours", 1), ("cost", 2)
        rows.append((_("all"), "", "", *(decimal(getattr(total, name), d) for name, d in sums)))
        table(
            _("Printer {printer}, {material}", printer=total.printer,
              material=total.material),
            (_("part"), _("stands on its"), _("tall mm"), _("g"), _("filament m"), _("hours"),
             _("cost")),
            rows,
            right=2,
        )  # fmt: skip
        text(_.tell(total.method), small=True)

    def _advice(self) -> None:
        heading(_("Advice"))
        with ui.element("ul"):
            for part, words in self._made.advice.items():
                text(f"{part}: {' '.join(map(_.tell, words))}", tag="li")
            for split in self._made.splits:
                text(
                    _(
                        "{part} is too tall for the printer: it is cut at {station} mm and bonded.",
                        part=split.part,
                        station=decimal(split.station_mm, 1),
                    ),
                    tag="li",
                )
            if self._made.over_joints:
                text(
                    _.tell(
                        say(
                            "Keys {keys} stand on two pieces: drill their posts when the joint has "
                            "cured, through a jig or by a dividing head, never before.",
                            keys=listed(self._made.over_joints),
                        )
                    ),
                    tag="li",
                )
        if self._made.reaming:
            heading(_("Reaming, in this order"), 3)
            with ui.element("ol"):
                for step in self._made.reaming:
                    text(_.tell(step), tag="li")
        self._compensation()
        _cautions()

    def _compensation(self) -> None:
        made = self._made.compensation
        if not made:
            return
        with ui.element("details"):
            TextElement(tag="summary", text=_("Compensated sizes"))
            table(
                _("Sizes in mm; a star: beyond those of the coupon"),
                (_("part"), _("feature"), _("designed"), _("drawn"), _("scatter")),
                [
                    (
                        one.part,
                        _.tell(one.feature) + (" *" if one.beyond else ""),
                        decimal(one.designed_mm, 2),
                        decimal(one.drawn_mm, 3),
                        decimal(one.scatter_mm, 3),
                    )
                    for one in made.sizes
                ],
                right=2,
            )

    def _files(self) -> None:
        heading(_("Files"))
        with ui.element("ul").classes("bw-files"):
            for part in self._made.solids.parts:
                good = part.watertight and part.valid
                with ui.element("li"):
                    state = _("closed") if good else _("NOT CLOSED: do not print")
                    text(f"{part.part} ({state}):", tag="span")
                    for name, kind in (
                        (part.step, "STEP"), (part.stl, "STL"), (part.three_mf, "3MF")
                    ):  # fmt: skip
                        self._link(name, kind)
            for bed in self._made.solids.beds:
                with ui.element("li"):
                    text(_("several parts on one bed:"), tag="span")
                    self._link(bed, "3MF")
            with ui.element("li"):
                text(_("all parts together:"), tag="span")
                self._link(self._made.solids.assembly, "STEP")
        picture, drawings, plan = self._papers()
        with ui.element("ul").classes("bw-files"):
            if plan:
                with ui.element("li"):
                    self._link(plan, _("Print plan (PDF)"))
            for stem, names in drawings.items():
                with ui.element("li"):
                    text(f"{stem}:", tag="span")
                    for name in names:
                        self._link(name, Path(name).suffix[1:].upper())
        if picture:
            image = ui.element("img").classes("bw-picture")
            image.props["src"] = f"/files/{picture}?of={self._made.of[:12]}"
            image.props["alt"] = _("The assembled instrument from the front, the side and the back")

    def _papers(self) -> tuple[str, dict[str, list[str]], str]:
        picture = plan = ""
        drawings: dict[str, list[str]] = {}
        for name in self._made.files:
            path = Path(name)
            if path.suffix == ".png":
                picture = name
            elif path.name == "print-plan.pdf":
                plan = name
            else:
                drawings.setdefault(path.stem.replace("-", " "), []).append(name)
        return picture, drawings, plan

    def _link(self, file: str, words: str) -> None:
        file_link(file, words, mark=f"made-{Path(file).name}").classes("bw-file")


def _cautions() -> None:
    from borewright.documents import CAUTIONS

    with ui.element("details"):
        TextElement(tag="summary", text=_("Cautions"))
        with ui.element("dl"):
            for each in CAUTIONS:
                text(_.tell(each.about), tag="dt")
                text(_.tell(each.text), tag="dd")
