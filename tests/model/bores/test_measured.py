"""Measured bores as files: both ends, unequal stations, decimal commas, and what is refused."""

import pytest

from borewright.errors import ModelError
from borewright.model.files.bores import read_bore

ROWS = "\n".join(f"{5 * n},{14.6 + 0.01 * n:.2f}" for n in range(8))


def write(tmp_path, text):
    path = tmp_path / "bore.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_plain_readings_become_one_part(tmp_path):
    [part] = read_bore(write(tmp_path, f"station_mm,diameter_mm\n{ROWS}\n")).parts
    assert part.name == "bore"
    assert part.length_mm is None
    assert part.stations_mm == [5.0 * n for n in range(8)]
    assert part.diameters_mm[-1] == pytest.approx(14.67)


def test_both_ends_decimal_commas_and_parts(tmp_path):
    text = (
        "\ufeffpart;station_mm;reached_from;diameter_mm;uncertainty_mm;length_mm;comment\r\n"
        + "".join(f"upper;{n * 3},5;top;14,6;0,02;;\r\n" for n in range(5))
        + "upper;-4;bottom;14,7;0,02;180;in the tenon\r\n"
        + "".join(f"lower;{n};;14,8;;;\r\n" for n in range(6))
    )
    bore = read_bore(write(tmp_path, text))
    assert [part.name for part in bore.parts] == ["upper", "lower"]
    upper = bore.part("upper")
    assert upper.length_mm == 180
    # 4 mm beyond the bottom shoulder, inside the tenon.
    assert upper.stations_mm[-1] == 184
    assert upper.readings[-1].uncertainty_mm == 0.02
    with pytest.raises(KeyError):
        bore.part("bell")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("station_mm,diameter_mm\n0,14.6\n5,14.6\n", "has 2 readings"),
        ("station_mm,width\n0,14.6\n", "'diameter_mm' is missing"),
        (f"station_mm,diameter_mm\n{ROWS}\n50,0.58\n", "looks like inches"),
        (f"station_mm,diameter_mm\n{ROWS}\n50,wide\n", "is not a number"),
        (
            "station_mm,diameter_mm,reached_from\n"
            + "".join(f"{n},14.6,bottom\n" for n in range(6)),
            "its length is not given",
        ),
        (
            "station_mm,diameter_mm,length_mm\n"
            + "".join(f"{n},14.6,{180 + n % 2}\n" for n in range(6)),
            "180 mm long in one row and 181 in another",
        ),
        ("station_mm,diameter_mm\n" + "3,14.6\n" * 6, "are at one station"),
        (f"# format = 9\nstation_mm,diameter_mm\n{ROWS}\n", "format 9"),
        (
            "station_mm,diameter_mm,reached_from\n" + "3,14.6,side\n" * 6,
            "reached_from",
        ),
    ],
)
def test_what_cannot_be_meant_is_refused_with_its_place(tmp_path, text, words):
    with pytest.raises(ModelError) as caught:
        read_bore(write(tmp_path, text))
    assert words in str(caught.value)
    assert "bore.csv" in str(caught.value)
