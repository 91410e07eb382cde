"""From a brief to a picture: the layout on a page, each stem printed in its colour, then the finish."""

from dataclasses import dataclass

from PIL import Image

from sitegen.pictures.sketch.arrange import arranged, together
from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.chance import Chance, chance, normal
from sitegen.pictures.sketch.finish import finished
from sitegen.pictures.sketch.kinds import HEADS
from sitegen.pictures.sketch.pigment import leafed, pigment, washed
from sitegen.pictures.sketch.press import Pose, kinds, printed
from sitegen.pictures.sketch.shapes import shape
from sitegen.pictures.sketch.sheet import Laying, Sheet, blank, lay
from sitegen.pictures.sketch.spots import Page, Point, Shape, Spot
from sitegen.pictures.sketch.wash import loose_wash

# However little there is to draw, it is not drawn larger: pixels an inch on paper of the usual size.
_CLOSEST = {"boutonniere": 190, "bud-vases": 130}
_CLOSE = 105
_PAPER = 1200


@dataclass(frozen=True, slots=True)
class _Easel:
    """A sheet, and how inches come to lie on it."""

    sheet: Sheet
    scale: float
    origin: Point

    def at(self, point: Point) -> Point:
        return self.origin[0] + self.scale * point[0], self.origin[1] + self.scale * point[1]


def paint(brief: Brief, size: tuple[int, int], others: tuple[Brief, ...] = ()) -> Image.Image:
    """Paint *brief* on paper of *size* pixels, at the scale at which all of *others* would fit as well.

    The same arguments give the same pixels.
    """
    layout, source = arranged(brief), chance(brief.seed)
    sheet = blank(size, source)
    easel = _Easel(sheet, *fitted(brief, together((brief, *others)) if others else layout.page, size))
    if layout.wash:
        middle, reach = layout.wash
        colours = [one.colour for one in brief.stems]
        loose_wash(sheet, easel.at(middle), reach * easel.scale, colours, source)
    for item in layout.items:
        if isinstance(item, Shape):
            shape(sheet, item, easel.scale, easel.origin)
        else:
            _print(easel, item, source)
    return finished(sheet, source)


def fitted(brief: Brief, page: Page, size: tuple[int, int]) -> tuple[float, Point]:
    """Give pixels an inch and where 0, 0 lies, so that *page* lies in the middle of *size* pixels."""
    left, top, right, bottom = page
    closest = _CLOSEST.get(brief.form, _CLOSE) * max(size) / _PAPER
    scale = min(size[0] / (right - left), size[1] / (bottom - top), closest)
    return scale, (size[0] / 2 - scale * (left + right) / 2, size[1] / 2 - scale * (top + bottom) / 2)


def _print(easel: _Easel, spot: Spot, source: Chance) -> None:
    """Print one flower, spray or leaf, a little lighter or warmer than its neighbours."""
    kind, sheet, head = kinds()[spot.kind], easel.sheet, spot.kind in HEADS
    options = kind.of_view(spot.view) if head else kind.stamps
    stamp, mirrored = options[source.randint(len(options))], bool(source.randint(2))
    lively = (1.0 if head else 1.7) * (1.2 - 0.9 * pigment(spot.colour).pale)
    one = pigment(spot.colour, normal(source, 0.02) * lively - spot.shade, normal(source, 0.008) * lively)
    pose = Pose(easel.at(spot.at), spot.inches * easel.scale, spot.turn, mirrored, by_anchor=not head)
    shown = printed(stamp, pose, sheet.size)
    if shown is None:
        return
    height, width = shown.cover.shape
    clouds = sheet.clouds[shown.top : shown.top + height, shown.left : shown.left + width]
    wet = clouds.ravel()[shown.under]
    leaf = kind.group == "sprig"
    body = leafed(shown, one, wet) if leaf else washed(shown, one, wet, kind.fixed)
    lay(sheet, shown.spread(body), shown.cover, (shown.left, shown.top), _laying(kind.group, one.pale))


def _laying(group: str, pale: float) -> Laying:
    """Pale blooms keep a dry line around them, pale sprays have a pencil's contour to be seen on paper."""
    if group == "head":
        return Laying(shadow=1.0, gap=0.10 + 0.52 * pale**2, line=0.15)
    return Laying(shadow=0.4, gap=0.2, line=0.05 if group == "sprig" else 0.06 + 0.30 * pale**3)
