import numpy as np
import pytest
from matplotlib.image import imread

from borewright.documents import PlanSection, PlanTable, Shape, shaded_picture, write_plan
from borewright.errors import DocumentsError


def box(x, y, z, half):
    """Twelve triangles of a cube, outwards."""
    import trimesh

    cube = trimesh.creation.box(extents=[2 * half] * 3)
    return cube.triangles + np.array([x, y, z])


def picture(shapes, tmp_path, **options):
    path = shaded_picture(shapes, tmp_path / "p.png", width_px=200, **options)
    return (imread(path)[:, :, :3] * 255).round().astype(int)


def test_the_nearer_shape_hides_the_farther(tmp_path):
    red = Shape("near", box(0, -5, 0, 1), (250, 0, 0))
    blue = Shape("far", box(0, 5, 0, 3), (0, 0, 250))
    front = picture([red, blue], tmp_path, bearings_deg=[0])
    middle = front[front.shape[0] // 2, front.shape[1] // 2]
    assert middle[0] > 100
    assert middle[2] == 0
    back = picture([red, blue], tmp_path, bearings_deg=[180])
    assert back[back.shape[0] // 2, back.shape[1] // 2][2] > 100


def test_left_is_up_and_the_bell_is_right(tmp_path):
    """Seen from the front, top end left: the player's left (-x) is above."""
    middle = Shape("m", box(0, 0, 0, 2), (200, 200, 200))
    left = Shape("left", box(-6, 0, 0, 1), (250, 0, 0))
    low = Shape("low", box(0, 0, 8, 1), (0, 250, 0))
    image = picture([middle, left, low], tmp_path, bearings_deg=[0])
    reds = np.argwhere((image[:, :, 0] > 60) & (image[:, :, 1] == 0))
    greens = np.argwhere((image[:, :, 1] > 60) & (image[:, :, 0] == 0))
    greys = np.argwhere((image[:, :, 0] == image[:, :, 1]) & (image[:, :, 0] < 240))
    assert reds[:, 0].mean() < greys[:, 0].mean()
    assert greens[:, 1].mean() > greys[:, 1].mean()


def test_small_and_large_triangles_cover_the_same_area(tmp_path):
    import trimesh

    coarse = trimesh.creation.box(extents=[10, 10, 20])
    fine = coarse.subdivide_to_size(0.5)
    first, second = (
        picture([Shape("b", mesh.triangles, (200, 100, 50))], tmp_path, bearings_deg=[0])
        for mesh in (coarse, fine)
    )
    assert np.count_nonzero((first < 240).any(axis=2) != (second < 240).any(axis=2)) < 10


def test_nothing_to_draw_and_another_suffix(tmp_path):
    with pytest.raises(DocumentsError, match="nothing to draw"):
        shaded_picture([], tmp_path / "p.png")
    with pytest.raises(DocumentsError, match="not a format"):
        shaded_picture([Shape("b", box(0, 0, 0, 1), (1, 2, 3))], tmp_path / "p.jpg")


def test_a_plan_ends_with_the_cautions(tmp_path):
    table = PlanTable("c", ("part", "mm"), [("barrel", "65.0")])
    section = PlanSection("Standing", ["words"], ["point"], ["step"], [table])
    path = write_plan(tmp_path / "plan.pdf", "Plan", "for a test", [section])
    assert path.read_bytes().startswith(b"%PDF")
