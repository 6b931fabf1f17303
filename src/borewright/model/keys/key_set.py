"""A whole set of keys, as surveyed."""

from __future__ import annotations

from collections import Counter
from typing import TypeVar

from pydantic import Field, SerializeAsAny, model_validator

from borewright.errors import ModelError
from borewright.model.base import Entity
from borewright.model.instrument import Instrument
from borewright.model.keys.elements import Cup, Element, Hinge, Link, Post, Ring
from borewright.model.keys.kinds import KeyElement
from borewright.words import Message, Place, Said, Text, joined, listed, say

Kind = TypeVar("Kind", bound=Element)

#: Heights over the bore's axis that keys of a woodwind have (mm): they catch inches and slips.
LEAST_HEIGHT_MM, GREATEST_HEIGHT_MM = 5.0, 80.0


class KeySet(Entity):
    """All elements of a survey, in the order of the file.

    ``lines`` are the rows' line numbers in the file ``source``, for messages. Raises ModelError
    where rows contradict each other.
    """

    elements: tuple[SerializeAsAny[Element], ...]
    source: str = ""
    lines: tuple[int, ...] = Field(default=(), exclude=True, repr=False)

    @model_validator(mode="after")
    def _sound(self) -> KeySet:
        self._check_names()
        self._check_hinges()
        self._check_works()
        self._check_heights()
        return self

    def of(self, kind: type[Kind]) -> list[Kind]:
        """All elements of a kind; a foot is not an arm here."""
        return [element for element in self.elements if type(element) is kind]

    @property
    def keys(self) -> list[str]:
        """Names of the keys that turn, in order."""
        return [hinge.key for hinge in self.of(Hinge)]

    def hinge(self, key: str) -> Hinge:
        """The tube of a key; KeyError if there is none."""
        for hinge in self.of(Hinge):
            if hinge.key == key:
                return hinge
        raise KeyError(key)

    def of_key(self, key: str) -> list[Element]:
        """All elements of one key."""
        return [element for element in self.elements if element.key == key]

    def posts_of(self, hinge: str) -> list[Post]:
        """The posts that hold a rod."""
        return [post for post in self.of(Post) if post.hinge == hinge]

    def over(self, hole: str) -> Cup | Ring | None:
        """The cup or ring over a hole, or None."""
        for element in self.elements:
            if isinstance(element, Cup | Ring) and element.hole == hole:
                return element
        return None

    def place(self, element: Element, column: str = "") -> Place:
        """Where an element stands: file, line, and name or column."""
        index = next(i for i, each in enumerate(self.elements) if each is element)
        row: Text = say("row {number}", number=index + 1)
        if index < len(self.lines):
            row = say("line {number}", number=self.lines[index])
        named = say("{element} '{name}'", element=element.kind, name=element.name)
        steps: Place = (self.source or say("key survey"), row, named)
        return (*steps, say("column '{column}'", column=column)) if column else steps

    def _wrong(self, element: Element, column: str, cause: Message, remedy: Said) -> ModelError:
        return ModelError(cause, place=self.place(element, column), remedy=remedy)

    def _check_names(self) -> None:
        names = Counter(element.name for element in self.elements)
        holes: dict[str, Element] = {}
        for element in self.elements:
            if names[element.name] > 1:
                raise self._wrong(
                    element,
                    "id",
                    say("the name '{name}' is given twice", name=element.name),
                    say("Give each row a name of its own."),
                )
            if isinstance(element, Cup | Ring):
                if element.hole in holes:
                    raise self._wrong(
                        element,
                        "hole",
                        say(
                            "hole '{hole}' already has '{other}' over it",
                            hole=element.hole,
                            other=holes[element.hole].name,
                        ),
                        say("Keep one cup or ring for each hole."),
                    )
                holes[element.hole] = element

    def _check_hinges(self) -> None:
        tubes = Counter(self.keys)
        for hinge in self.of(Hinge):
            if tubes[hinge.key] > 1:
                raise self._wrong(
                    hinge,
                    "key",
                    say("the key '{key}' has two hinges", key=hinge.key),
                    say("A key that turns is one row of tube; give the other a key of its own."),
                )
            if hinge.open_deg == 0:
                raise self._wrong(
                    hinge,
                    "open_deg",
                    say("the key '{key}' does not turn: its angle is 0", key=hinge.key),
                    say("Measure the angle from shut to open, with its sign."),
                )
            if len(self.posts_of(hinge.hinge)) < 2:
                raise self._wrong(
                    hinge,
                    "hinge",
                    say("the hinge '{hinge}' has fewer than two posts", hinge=hinge.hinge),
                    say("Add a row for each post that holds it."),
                )
        rods = {hinge.key: hinge.hinge for hinge in self.of(Hinge)}
        for element in self.elements:
            if element.key not in rods:
                raise self._wrong(
                    element,
                    "key",
                    say("the key '{key}' has no hinge", key=element.key),
                    say("Add its row of tube, or correct the key's name."),
                )
            if element.hinge != rods[element.key]:
                raise self._wrong(
                    element,
                    "hinge",
                    say(
                        "it names the hinge '{hinge}', but its key '{key}' turns on '{other}'",
                        hinge=element.hinge,
                        key=element.key,
                        other=rods[element.key],
                    ),
                    say("Correct one of them."),
                )

    def _check_works(self) -> None:
        for link in self.of(Link):
            if link.to not in self.keys or link.to == link.key:
                raise self._wrong(
                    link,
                    "to",
                    say("it drives '{to}', which is no other key of the set", to=link.to),
                    joined(
                        [
                            say("Name the key that it works."),
                            say("Keys are: {keys}.", keys=listed(self.keys)),
                        ]
                    ),
                )
        for element in self.elements:
            if element.first == element.second:
                raise self._wrong(
                    element,
                    "x2_mm",
                    say("its two points are one and the same"),
                    say("Measure both ends."),
                )
            if isinstance(element, Cup) and element.rest is not self.hinge(element.key).rest:
                raise self._wrong(
                    element,
                    "rest",
                    say(
                        "the pad rests {rest}, but its key rests {other}",
                        rest=element.rest,
                        other=self.hinge(element.key).rest,
                    ),
                    say("Correct one of them."),
                )
            narrow, wide = _inside_and_outside(element)
            if narrow >= wide:
                raise self._wrong(
                    element,
                    "size2_mm",
                    say(
                        "it is {outside_mm:.2f} mm outside and {inside_mm:.2f} mm inside",
                        outside_mm=wide,
                        inside_mm=narrow,
                    ),
                    say("The outside is the larger one."),
                )

    def _check_heights(self) -> None:
        for element in self.elements:
            if element.kind is KeyElement.SPRING:
                continue
            for number, point in ((1, element.first), (2, element.second)):
                if not LEAST_HEIGHT_MM <= point.height_mm <= GREATEST_HEIGHT_MM:
                    raise self._wrong(
                        element,
                        "r1_mm" if number == 1 else "r2_mm",
                        say(
                            "{height_mm:g} mm over the bore's axis is no height of a key",
                            height_mm=point.height_mm,
                        ),
                        say(
                            "Give heights in mm from the bore's axis, {least:g} to {most:g}.",
                            least=LEAST_HEIGHT_MM,
                            most=GREATEST_HEIGHT_MM,
                        ),
                    )

    def check_against(self, instrument: Instrument) -> None:
        """Raise ModelError where the set cannot belong to this instrument: parts and holes."""
        owners = {hole.name: part.name for part, hole, _ in instrument.placed_holes()}
        parts = [part.name for part in instrument.parts]
        for element in self.elements:
            if element.part not in parts:
                raise self._wrong(
                    element,
                    "part",
                    say("it is on part '{part}', which the instrument lacks", part=element.part),
                    say("Parts are: {parts}.", parts=listed(parts)),
                )
            if not isinstance(element, Cup | Ring):
                continue
            if element.hole not in owners:
                raise self._wrong(
                    element,
                    "hole",
                    say("it is over hole '{hole}', which the instrument lacks", hole=element.hole),
                    say("Holes are: {holes}.", holes=listed(list(owners))),
                )
            if owners[element.hole] != element.part:
                raise self._wrong(
                    element,
                    "part",
                    say(
                        "it is on part '{part}', but hole '{hole}' is in '{other}'",
                        part=element.part,
                        hole=element.hole,
                        other=owners[element.hole],
                    ),
                    say("Correct the part here, or move the hole in the instrument."),
                )
            hole = instrument.part(element.part).hole(element.hole)
            across = element.pad_mm if isinstance(element, Cup) else element.inside_mm
            if across <= hole.diameter_mm:
                raise self._wrong(
                    element,
                    "size_mm",
                    say(
                        "it is {across_mm:g} mm across, but its hole '{hole}' {hole_mm:g} mm",
                        across_mm=across,
                        hole=hole.name,
                        hole_mm=hole.diameter_mm,
                    ),
                    say("A pad or ring is wider than its hole; measure both again."),
                )


def _inside_and_outside(element: Element) -> tuple[float, float]:
    """What must be narrower, and what must be wider (mm)."""
    if isinstance(element, Hinge):
        return element.rod_mm, element.tube_mm
    if isinstance(element, Cup):
        return element.pad_mm - 1e-9, element.outside_mm
    if isinstance(element, Ring):
        return element.inside_mm, element.outside_mm
    return 0.0, 1.0
