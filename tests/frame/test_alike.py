"""Pieces that are the same, and mirror images, found in shuffled copies."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import (
    Bent,
    Box,
    CoperError,
    Oval,
    Round,
    Tapered,
    TaperedOval,
    Tube,
    make_pieces,
    parse_job,
    plain_end,
    shape_end,
)
from coper.frame.alike import find_alike, lay_on
from coper.frame.piece import make_piece
from coper.frame.tube import MIRROR
from coper.tolerances import ALIKE_MM
from tests.frame.specimens import direction, main_at, random_tube
from tests.profiles import examples
from tests.specimens import BRANCHES

SEED = st.integers(0, 2**32 - 1)


def random_set(rng, kind):
    """A tube of a kind, with what its start and its end seat on: on nothing now and then."""
    tube = random_tube(rng, kind)
    mains = {which: [main_at(rng, tube, which, f"{which}-{n}")
                     for n in range(rng.integers(0 if which == "end" else 1, 3))]
             for which in ("start", "end")}
    return tube, mains


def shaped(tube, mains):
    ends = [shape_end(tube, which, mains[which]) if mains[which] else plain_end(tube, which, 3)
            for which in ("start", "end")]
    return make_piece(tube, *ends)


def some_set(rng, kind):
    """A set that can be shaped, each end seated all round."""
    while True:
        tube, mains = random_set(rng, kind)
        try:
            piece = shaped(tube, mains)
        except CoperError:
            continue
        if not any(end.open for end in piece.ends):
            return tube, mains


def placed(tube, turn, shift, name=None):
    """A tube turned by a matrix (3, 3) and pushed: its section goes with it."""
    start, end = (turn @ at + shift for at in (tube.start, tube.end))
    bare = Tube(tube.shape, start, end, name or tube.name)
    facing = turn @ tube.pose.axes[0]
    first, second, _ = bare.pose.axes
    return Tube(tube.shape, start, end, bare.name,
                turn=math.degrees(math.atan2(facing @ second, facing @ first)))


def turned_round(tube):
    """The same tube described from its other end."""
    shape = tube.shape
    if isinstance(shape, Tapered):
        length = tube.length
        one, other = (2 * float(shape.radius(at)) for at in (length, length - shape.length))
        shape = Tapered(one, other, shape.length, shape.wall)
    bare = Tube(shape, tube.end, tube.start, tube.name)
    facing = tube.pose.axes[0]
    first, second, _ = bare.pose.axes
    return Tube(shape, tube.end, tube.start, tube.name,
                turn=math.degrees(math.atan2(facing @ second, facing @ first)))


def random_rotation(rng):
    first = direction(rng)
    second = np.cross(first, direction(rng))
    second /= np.linalg.norm(second)
    return np.stack((first, second, np.cross(first, second)))


def copied(rng, tube, mains, name, mirror):
    """The whole set elsewhere, reflected if so, with its section turned about its axis."""
    both = {None: [tube], **mains}
    if mirror:
        both = {which: [one.mirrored() for one in some] for which, some in both.items()}
    turn, shift = random_rotation(rng), rng.uniform(-500, 500, 3)
    both = {which: [placed(one, turn, shift) for one in some] for which, some in both.items()}
    (moved,), start, end = both[None], both["start"], both["end"]
    if isinstance(moved.shape, Round | Tapered):  # it looks the same from all sides
        moved = Tube(moved.shape, moved.start, moved.end, name, turn=rng.uniform(-180, 180))
    else:
        moved = Tube(moved.shape, moved.start, moved.end, name, turn=moved.turn)
    return shaped(moved, {"start": start, "end": end})


@given(SEED, st.sampled_from(BRANCHES))
@examples(6)
def test_shuffled_copies_and_mirror_images_are_found(seed, kind):
    rng = np.random.default_rng(seed)
    tube, mains = some_set(rng, kind)
    pieces = [copied(rng, tube, mains, f"{'image' if mirror else 'same'}-{n}", mirror)
              for mirror in (False, True) for n in range(3)]
    rng.shuffle(pieces)
    group, = find_alike(pieces)
    assert group.count == 6
    if group.mirror is None:  # it is its own mirror image
        return
    found = [{label[:4] for label in batch.labels} for batch in group.batches]
    assert sorted(map(sorted, found)) == [["imag"], ["same"]]


@given(SEED, st.sampled_from((Round, Oval, Box)))
@examples(8)
def test_a_piece_described_from_its_other_end_is_the_same_turned_end_for_end(seed, kind):
    rng = np.random.default_rng(seed)
    tube, mains = some_set(rng, kind)
    one = shaped(tube, mains)
    back = shaped(turned_round(tube), {"start": mains["end"], "end": mains["start"]}
                  if mains["end"] else {"start": [], "end": mains["start"]})
    laid = lay_on(back, one)
    assert laid is not None
    assert laid.end_for_end or lay_on(one, one) is not None


def test_a_tapered_piece_described_from_its_other_end_is_the_same():
    tube = Tube(Tapered(22, 14, 400, 0.8), (0, 0, 0), (400, 0, 0), "stay")
    back = Tube(Tapered(14, 22, 400, 0.8), (400, 0, 0), (0, 0, 0), "stay")
    main = Tube(Round(40), (0, -60, 20), (0, 60, -30), "shell")
    one = make_piece(tube, shape_end(tube, "start", [main]), plain_end(tube, "end", 12))
    other = make_piece(back, plain_end(back, "start", 12), shape_end(back, "end", [main]))
    laid = lay_on(other, one)
    assert laid is not None and laid.end_for_end
    thick = make_piece(back, plain_end(back, "start", 12), plain_end(back, "end"))
    thin = make_piece(tube, plain_end(tube, "start", 12), plain_end(tube, "end"))
    assert lay_on(thick, thin) is None


POST = """\
[tubes.low]
shape = "33.7 x 2.6"
start = { at = [0, 0, 0] }
end = { at = [900, 0, 0] }
[tubes.top]
shape = "42.4 x 2.6"
start = { at = [0, 0, 800] }
end = { at = [900, 0, 800] }
"""


def posts(*words):
    """Posts of ``x at the foot, x at the head, extra`` between two rails."""
    text = POST
    for n, (foot, head, extra) in enumerate(words):
        text += (f"[tubes.post-{n}]\nshape = '26.9 x 2.3'\n{extra}\n"
                 f"start = {{ at = [{foot}, 0, 0], on = ['low'] }}\n"
                 f"end = {{ at = [{head}, 0, 800], on = ['top'] }}\n")
    return find_alike(make_pieces(parse_job(text)))[2:]


def test_seven_posts_are_one_batch_and_a_leaning_one_is_by_itself():
    upright = [(100 + 90 * n, 100 + 90 * n, f"turn = {17 * n}") for n in range(7)]
    batch, = posts(*upright)
    assert batch.count == 7 and batch.mirror is None
    batch, alone = posts(*upright, (300, 400, ""))
    assert (batch.count, alone.count) == (7, 1)


def test_a_post_that_leans_the_other_way_is_the_same_turned_about():
    batch, = posts((300, 400, ""), (400, 300, ""))
    assert batch.mirror is None
    assert batch.batch.members[1].laid.clock_0 == pytest.approx(180, abs=1e-6)


@pytest.mark.parametrize(("longer", "same"), [(0.04, True), (0.06, False)])
def test_pieces_are_the_same_to_0_05_mm_and_not_beyond(longer, same):
    def post(length, back=0.0):
        tube = Tube(Round(20, 1), (0, 0, 0), (0, 0, length), "post")
        main = Tube(Round(40), (-50, 0, 0), (50, 30, 9), "rail")
        return make_piece(tube, shape_end(tube, "start", [main]), plain_end(tube, "end", back))

    assert ALIKE_MM == 0.05
    assert len(find_alike([post(300), post(300 + longer)])) == (1 if same else 2)
    assert len(find_alike([post(300), post(300, longer)])) == (1 if same else 2)


def test_twins_are_mirror_images_and_those_that_are_their_own_are_the_same():
    text = """\
[tubes.shell]
shape = "40 x 3"
start = { at = [0, -60, 0] }
end = { at = [0, 60, 0] }
[tubes.stay]
shape = "22 x 1"
start = { at = [-4, 30, 5], on = ["shell"] }
end = { at = [-300, 60, 40] }
mirror = true
[tubes.arm]
shape = "22 x 1"
start = { at = [0, 30, 0], on = ["shell"] }
end = { at = [-300, 60, 0] }
mirror = true
"""
    shell, stay, arm = find_alike(make_pieces(parse_job(text)))
    assert shell.count == 1
    assert (stay.batch.labels, stay.mirror.labels) == (("stay left",), ("stay right",))
    assert (arm.batch.labels, arm.mirror) == (("arm left", "arm right"), None)


@pytest.mark.parametrize(("one", "other"), [
    (Round(20, 1), Round(20, 1.2)), (Round(20, 1), Round(20.02, 1)),
    (Oval(30, 20, 1), Oval(30, 20.02, 1)), (Round(20, 1), Box(20, 20, 0, 1)),
    (Bent(20, 200, 1), Bent(20, 200.02, 1)), (TaperedOval(30, 20, 16, 300, 1), Round(20, 1))])
def test_another_tube_is_never_the_same(one, other):
    def bar(shape):
        tube = Tube(shape, (0, 0, 0), (0, 0, 200), "bar")
        return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))

    assert len(find_alike([bar(one), bar(one), bar(other)])) == 2


def test_bends_with_the_same_ends_are_the_same_whichever_way_they_lie():
    def bend(start, end):
        tube = Tube(Bent(20, 200, 1), (0, 0, 0), (0, 0, 200), "bend", turn=33)
        return make_piece(tube, plain_end(tube, "start", start), plain_end(tube, "end", end))

    assert [group.count for group in find_alike(
        [bend(0, 5), bend(5, 0), bend(0, 5), bend(0, 5.06)])] == [3, 1]


def test_the_frames_reflection_is_the_mirror_image_of_every_kind():
    rng = np.random.default_rng(8)
    for kind in BRANCHES:
        tube, mains = some_set(rng, kind)
        image = shaped(tube.mirrored(), {which: [one.mirrored() for one in some]
                                         for which, some in mains.items()})
        assert (image.tube.start == tube.start * MIRROR).all()
        assert lay_on(image, shaped(tube, mains), mirror=True) is not None
