"""Keys that stand on another body, as lines of plain text."""

from __future__ import annotations

from collections.abc import Iterator

from borewright.doors.columns import columns, figure, signed
from borewright.doors.showing import ending_lines
from borewright.tasks.naming import title
from borewright.tasks.standing import KeysStood, faults
from borewright.words import Reader


def standing_lines(words: Reader, made: KeysStood) -> Iterator[str]:
    """How far each hinge moved, where every post stands and how it is drilled, what is wrong."""
    yield words.tell(title(made.instrument))
    yield words(
        "faults before {before}, after {after}",
        before=faults(made.before),
        after=faults(made.after),
    )
    yield ""
    yield words("how far each hinge goes: down the body, round it to the player's left, outwards")
    yield from columns(
        [words("hinge"), words("down mm"), words("left °"), words("out mm")],
        [
            (hinge, signed(words, along, 2), signed(words, turn, 2), signed(words, out, 2))
            for hinge, (along, turn, out) in made.moved.items()
        ],
        right=(1, 2, 3),
    )
    yield ""
    yield words(
        "where the posts stand (mm; stations from the part's top shoulder), and how far each "
        "hole leans out of straight towards the bore's axis: down the body, to the player's left; "
        "and from square to the surface, where a drill wanders"
    )
    yield from columns(
        [
            words("post"),
            words("part"),
            words("station"),
            words("bearing °"),
            words("foot from axis"),
            words("head over foot"),
            words("deep"),
            words("down °"),
            words("left °"),
            words("off square °"),
        ],
        [
            (
                post.post,
                post.part,
                figure(words, post.station_mm, 2),
                figure(words, post.bearing_deg, 2),
                figure(words, post.foot_mm, 2),
                figure(words, post.height_mm, 2),
                words.number(post.depth_mm, "g"),
                signed(words, post.lean_down_deg),
                signed(words, post.lean_left_deg),
                figure(words, post.off_square_deg),
            )
            for post in made.posts
        ],
        right=(2, 3, 4, 5, 6, 7, 8, 9),
    )
    yield from ending_lines(
        words, made.after, words("what moving whole keys cannot mend"), made.output
    )
