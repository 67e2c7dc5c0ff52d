"""Hooks and what belongs to them: latch, yoke, crosshead, body halves; pawls."""

from __future__ import annotations

import numpy as np

from hoistwright.drawing.project import Points
from hoistwright.drawing.shapes.body import Body, Prism
from hoistwright.drawing.shapes.catalogue import Size, shape
from hoistwright.drawing.shapes.outlines import circle, lobed, moved, rectangle, ribbon
from hoistwright.drawing.shapes.round import closed


def _hook_line(bowl: float, start: float) -> tuple[Points, Points]:
    """Centre line from the neck round the bowl to the tip, about the bowl's centre.

    It begins `start` bowl radii above the centre: at or in the collar.
    """
    turn = np.radians(np.linspace(222, -18, 30))
    round_ = np.column_stack([bowl * np.cos(turn), bowl * np.sin(turn)])
    neck = bowl * np.array([[0.0, -start], [0.0, -1.45], [-0.13, -1.29], [-0.42, -1.04]])
    line = np.vstack([neck, round_[1:], [[bowl * 1.06, -bowl * 0.55]]])
    share = np.linspace(0, 1, len(line))
    width = np.interp(
        share, [0, 0.1, 0.3, 0.55, 0.75, 0.93, 1.0], [0.60, 0.60, 0.72, 0.86, 0.74, 0.50, 0.34]
    )
    return line, width * bowl


def _hook(size: Size, *, upwards: bool) -> Body:
    """A hook in the plane (u, w): shank at w = 0, bowl below."""
    bowl = size.width * 0.36
    drop = size.height - bowl * 1.45
    shank = drop - bowl * 1.85
    line, widths = _hook_line(bowl, 1.55 if upwards else 1.70)
    thick = size.thickness / 2
    r = size.outer / 2
    turns = tuple(np.arange(2.5, shank * 0.55, 2.8).tolist())
    solids = (
        Prism(
            outline=moved(ribbon(line, widths), 0, drop),
            low=-thick,
            high=thick,
            along="v",
            marks=(moved(line[2:-2], 0, drop),),
        ),
        Prism(outline=circle(r), low=0, high=shank, threads=turns),
        Prism(outline=circle(r * 1.45), low=shank, high=shank + bowl * 0.3),
    )
    length = size.height
    eye, mouth = shank * 0.3, drop - bowl * 0.9
    if not upwards:
        return Body(solids=solids, length=length, eye=eye, mouth=mouth)
    flipped = tuple(_upside_down(s, length) for s in solids)
    return Body(solids=flipped, length=length, eye=length - eye, mouth=length - mouth)


def _upside_down(solid: Prism, length: float) -> Prism:
    if solid.along == "w":
        threads = tuple(length - at for at in solid.threads)
        return Prism(
            outline=solid.outline, low=length - solid.high, high=length - solid.low, threads=threads
        )
    turn = np.array([[1.0, -1.0]])
    return Prism(
        outline=solid.outline * turn + [0, length],
        low=solid.low,
        high=solid.high,
        along=solid.along,
        marks=tuple(mark * turn + [0, length] for mark in solid.marks),
    )


@shape("hook", outer=22, width=92, height=170, thickness=22)
def hook(size: Size) -> Body:
    """A hook hanging: shank above, bowl below."""
    return _hook(size, upwards=False)


@shape("top hook", outer=22, width=92, height=170, thickness=22)
def top_hook(size: Size) -> Body:
    """The suspension hook: shank below, bowl above."""
    return _hook(size, upwards=True)


@shape("latch", width=14, height=52, thickness=12)
def latch(size: Size) -> Body:
    """A latch: bent sheet with two cheeks and a rivet hole."""
    w, h = size.width / 2, size.height
    outline = np.array(
        [[-w, 0], [w, 0], [w * 1.1, h * 0.3], [w * 0.5, h], [-w * 0.3, h], [-w, h * 0.3]]
    )
    hole = circle(w * 0.35, at=(0, h * 0.14))
    sheet = Prism(
        outline=outline,
        holes=(hole,),
        low=-size.thickness / 2,
        high=size.thickness / 2,
        along="v",
        marks=(np.array([[-w * 0.6, h * 0.32], [w * 0.15, h * 0.92]]),),
    )
    return Body(solids=(sheet,), length=h, eye=h * 0.14)


@shape("yoke", outer=24, width=64, height=44, thickness=34)
def yoke(size: Size) -> Body:
    """A yoke or body: block with a bore for the shank and a cross bore for the pin."""
    w, h, t = size.width, size.height, size.thickness
    block = Prism(
        outline=moved(rectangle(t, h, corner=h * 0.2), 0, h / 2),
        holes=(circle(h * 0.2, at=(0.0, h / 2)),),
        low=-w / 2,
        high=w / 2,
        along="u",
    )
    boss = Prism(
        outline=circle(size.outer * 0.7), holes=(circle(size.outer / 2),), low=-h * 0.12, high=0
    )
    return Body(solids=(block, boss), length=h, eye=h / 2)


@shape("crosshead", outer=26, width=84, height=34, thickness=30)
def crosshead(size: Size) -> Body:
    """A bottom block crosshead: block with trunnions and the shank's bore on top."""
    w, h, t = size.width, size.height, size.thickness
    middle = rectangle(w * 0.56, t, corner=4)
    block = Prism(
        outline=middle,
        holes=(circle(size.outer / 2),),
        low=0,
        high=h,
    )
    ends = [
        Prism(outline=circle(h * 0.3, at=(0, h / 2)), low=low, high=high, along="u")
        for low, high in ((-w / 2, -w * 0.28), (w * 0.28, w / 2))
    ]
    return Body(solids=(ends[0], block, ends[1]), length=h, eye=h / 2)


@shape("body half", outer=24, width=62, height=74, thickness=14)
def body_half(size: Size) -> Body:
    """One half of a bottom hook body: shell with bolt holes, chain slot above."""
    w, h, t = size.width / 2, size.height, size.thickness
    outline = lobed(
        [(-w * 0.7, h * 0.2, w * 0.3), (w * 0.7, h * 0.2, w * 0.3), (0, h * 0.62, w * 0.8)]
    )
    slot = moved(rectangle(w * 0.5, h * 0.34, corner=w * 0.2), 0, h * 0.3)
    holes = tuple(circle(w * 0.14, at=(side * w * 0.6, h * 0.52)) for side in (-1, 1))
    shell = Prism(
        outline=outline,
        holes=holes,
        cavities=((slot, t * 0.6),),
        open_high=True,
        low=-t / 2,
        high=t / 2,
        along="v",
        marks=(closed(circle(w * 0.26, at=(0, h * 0.74))),),
    )
    return Body(solids=(shell,), length=h, eye=h * 0.5)


@shape("pawl", width=24, height=48, thickness=9)
def pawl(size: Size) -> Body:
    """A pawl: round eye for its pin, arm, hooked nose."""
    w, h = size.width / 2, size.height
    eye = lobed([(0, 0, w), (0, h * 0.30, w * 0.55)])
    nose = np.array(
        [[w * 0.55, h * 0.3], [w * 0.95, h * 0.72], [w * 0.2, h * 0.8], [-w * 0.55, h * 0.3]]
    )
    lower = eye[eye[:, 1] < h * 0.3]
    lower = lower[np.argsort(np.arctan2(lower[:, 0], h * 0.1 - lower[:, 1]))]
    outline = np.vstack([lower, nose])
    body = Prism(outline=outline, holes=(circle(w * 0.5),), low=0, high=size.thickness)
    return Body(solids=(body,), length=size.thickness)
