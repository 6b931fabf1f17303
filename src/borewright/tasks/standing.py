"""Keys set onto another body from file to file: every hinge where that body's holes ask for it."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from borewright.errors import ModelError
from borewright.model import Finding, Instrument, load
from borewright.model.files.keys import write_keys
from borewright.tasks.inputs import needed_keys
from borewright.tasks.outputs import check_target, same_file, tables_of
from borewright.words import say

if TYPE_CHECKING:
    from borewright.keywork import PostPlace


@dataclass(frozen=True)
class KeysStood:
    """What standing the keys made: how far hinges moved, where posts stand, what is still wrong.

    ``moved`` is by hinge: along the body (mm, down), round it (degrees, left) and outwards (mm).
    """

    instrument: Instrument
    moved: dict[str, tuple[float, float, float]]
    posts: list[PostPlace]
    before: list[Finding]
    after: list[Finding]
    output: Path

    def as_dict(self) -> dict[str, Any]:
        """The standing for JSON."""
        return {
            "moved": [
                {"hinge": hinge, "along_mm": along, "round_deg": turn, "out_mm": out}
                for hinge, (along, turn, out) in self.moved.items()
            ],
            "posts": [
                {
                    **asdict(post),
                    "lean_down_deg": post.lean_down_deg,
                    "lean_left_deg": post.lean_left_deg,
                }
                for post in self.posts
            ],
            "faults_before": faults(self.before),
            "faults_after": faults(self.after),
            "findings": [each.model_dump(mode="json") for each in self.after],
            "output": str(self.output),
        }


def faults(findings: list[Finding]) -> int:
    """How many of them are faults."""
    return sum(finding.severity == "fault" for finding in findings)


def stand_keys(
    file: Path, output: Path, *, keys: Path | None = None, force: bool = False
) -> KeysStood:
    """Stand a set of keys on an instrument's body and save its survey as it then is.

    Parameters
    ----------
    file
        The instrument whose body the keys go onto; its holes stay where they are.
    output
        Where the key survey goes (CSV).
    keys
        A key survey that goes before the one the file names: one of another body.
    force
        Allow the survey that is read to be replaced.

    Raises
    ------
    ModelError
        For wrong input, without any key survey, and for an output that could not be written.
    """
    from borewright.keywork import Body, Mechanism, key_findings, post_places, stand_on

    instrument = load(file)
    survey = needed_keys(
        instrument,
        file,
        say("no key survey is named, so there are no keys to stand on the body"),
        keys,
        say("Name the survey there, or give it with --keys (in Python, keys=)."),
    )
    tables = tables_of(instrument, file, keys=keys)
    source = tables.pop("keys")
    check_target(output)
    if any(same_file(output, other) for other in (file, *tables.values())):
        raise ModelError(
            say("is read here; the key survey would replace it"),
            place=str(output),
            remedy=say("Name another file with --output."),
        )
    if same_file(output, source) and not force:
        raise ModelError(
            say("would be replaced by the survey of the keys as they stand on this body"),
            place=str(output),
            remedy=say("Name another file with --output, or allow it with --force."),
        )
    stood = stand_on(survey, instrument)
    made = KeysStood(
        instrument,
        stood.moved_mm,
        post_places(Mechanism(stood.keys, instrument), Body(instrument)),
        list(key_findings(instrument, survey)),
        list(key_findings(instrument, stood.keys)),
        output,
    )
    write_keys(output, stood.keys)
    return made
