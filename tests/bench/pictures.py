"""Measure the making of pictures against other ways to do the same work.

    python tests/bench/pictures.py [--photos 24] [--pairs 3] [--against RIVAL] [--work FOLDER] [--sharp FOLDER]

Makes synthetic 12-megapixel photos (numpy needed) in FOLDER, once. Then each rival and sitegen make longest
edges 1600, 960, 480 as WebP (quality 80, method 4) and 960 as JPEG (82, progressive) in turn, each in a
process of its own. Printed: the ratio of processor time (user + system, children and start-up counted), pair
by pair, and its median; luma SSIM against un-encoded full-size LANCZOS; the largest process; a second run.

Rivals: plain Pillow; pyvips (`pip install "pyvips[binary]"`); sharp (`npm install sharp` in the folder given
as --sharp). pyvips and sharp get the same care: decode small, smaller sizes from larger ones, one thread.
"""

import argparse
import importlib
import math
import os
import runpy
import shutil
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

from PIL import Image, ImageCms, ImageOps

from sitegen.pictures.head import PhotoHead, head
from sitegen.pictures.make import make
from sitegen.pictures.plan import Job, Look, plan
from sitegen.pictures.store import Store

SIZE = (4032, 3024)
EDGES = (1600, 960, 480)
TURNS = (6, 1, 6, 1, 8, 3)
SSIM_PHOTOS = 6
TARGETS = {"pillow": 0.60, "pyvips": 0.75, "sharp": 0.90}
MEMORY_MOST = 120
SSIM_WITHIN = 0.01

SHARP = """
const sharp = require("sharp"), path = require("path");
sharp.concurrency(1); sharp.cache(false);
const [out, ...photos] = process.argv.slice(1);
const at = (pixels, edge) => sharp(pixels.data, {raw: pixels.info}).resize(edge, edge, {fit: "inside"});
async function one(photo) {
  const name = path.join(out, path.parse(photo).name);
  let pixels = await sharp(photo).rotate().resize(1600, 1600, {fit: "inside"}).raw()
    .toBuffer({resolveWithObject: true});
  for (const edge of [1600, 960, 480]) {
    if (edge < 1600) pixels = await at(pixels, edge).raw().toBuffer({resolveWithObject: true});
    const here = () => sharp(pixels.data, {raw: pixels.info});
    await here().webp({quality: 80, effort: 4}).toFile(`${name}-${edge}.webp`);
    if (edge === 960) await here().jpeg({quality: 82, progressive: true}).toFile(`${name}-${edge}.jpeg`);
  }
}
async function worker() { while (photos.length) await one(photos.shift()); }
Promise.all([worker(), worker()]);
"""


@dataclass(frozen=True, slots=True)
class Cost:
    seconds: float
    megabytes: float


# --- the photos ---------------------------------------------------------------------------------------------


def make_photo(path: Path, number: int) -> None:
    """Overlapping petals with veins, soft light, 1/f texture and sensor noise; the same for the same number."""
    np = importlib.import_module("numpy")
    random = np.random.default_rng(number)
    width, height = SIZE
    canvas = np.empty((height, width, 3), np.float32)
    canvas[:] = np.array([70, 92, 62]) + random.normal(0, 12, 3)
    for _ in range(110):
        _petal(np, random, canvas)
    canvas += 14 * _texture(np, random)[..., None]
    canvas += random.normal(0, 2.2, canvas.shape).astype(np.float32)
    exif = Image.Exif()
    exif[0x0112] = TURNS[number % len(TURNS)]
    more: dict[str, Any] = {"icc_profile": _display_p3()} if number % 3 == 0 else {}
    image = Image.fromarray(canvas.clip(0, 255).astype(np.uint8))
    beside = path.with_suffix(".part")
    image.save(beside, "JPEG", quality=93, exif=exif, **more)
    beside.rename(path)


def _petal(np: Any, random: Any, canvas: Any) -> None:
    height, width, _ = canvas.shape
    long, angle = random.uniform(150, 620), random.uniform(0, math.tau)
    broad = long * random.uniform(0.3, 0.75)
    x0, y0 = int(random.uniform(0, width)), int(random.uniform(0, height))
    top, bottom = max(0, y0 - int(long)), min(height, y0 + int(long))
    left, right = max(0, x0 - int(long)), min(width, x0 + int(long))
    y, x = np.ogrid[top - y0 : bottom - y0, left - x0 : right - x0]
    along = (x * math.cos(angle) + y * math.sin(angle)) / long
    across = (y * math.cos(angle) - x * math.sin(angle)) / broad
    inside = along**2 + across**2 * (1.2 - 0.5 * along) < 1
    veins = 5 * np.sin(across * random.uniform(20, 60) + along * 4)
    light = 1.05 - 0.35 * along**2 - 0.25 * np.abs(across)
    green = random.random() < 0.3
    colour = np.array([92, 120, 78] if green else [226, 178, 170]) + random.normal(0, 20, 3)
    shaded = (light[..., None] * colour + veins[..., None]).astype(np.float32)
    part = canvas[top:bottom, left:right]
    part[inside] = shaded[inside]


def _texture(np: Any, random: Any) -> Any:
    width, height = SIZE
    fy, fx = np.fft.fftfreq(height)[:, None], np.fft.rfftfreq(width)[None, :]
    wave = np.fft.rfft2(random.standard_normal((height, width), dtype=np.float32))
    field = np.fft.irfft2(wave / np.maximum(np.hypot(fx, fy), 1 / width), s=(height, width))
    return (field / field.std()).astype(np.float32)


def _display_p3() -> bytes:
    """The profile that the tests build from the published primaries."""
    photos = runpy.run_path(str(Path(__file__).parents[1] / "pictures" / "photos.py"))
    profile: bytes = photos["rgb_profile"](photos["DISPLAY_P3"], photos["srgb_curve"])
    return profile


def make_photos(folder: Path, count: int) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    lacking = [number for number in range(count) if not _photo(folder, number).exists()]
    with ProcessPoolExecutor(min(2, os.cpu_count() or 1)) as pool:
        list(pool.map(make_photo, (_photo(folder, number) for number in lacking), lacking))


def _photo(folder: Path, number: int) -> Path:
    return folder / f"photo-{number:02}.jpg"


# --- the ways: each is run in a process of its own ------------------------------------------------------------


def with_sitegen(photos: Sequence[Path], out: Path) -> None:
    faults = make([_job(path) for path in photos], Store(out))
    if faults:
        raise SystemExit(f"faults: {faults}")


def _job(path: Path) -> Job:
    found = head(path)
    if not isinstance(found, PhotoHead):
        raise SystemExit(f"not a photo: {found}")
    return plan(path, found, Look(EDGES, 960))


def with_pillow(photos: Sequence[Path], out: Path) -> None:
    for path in photos:
        whole = plain(path)
        for edge in EDGES:
            image = ImageOps.contain(whole, (edge, edge), Image.Resampling.LANCZOS)
            image.save(out / f"{path.stem}-{edge}.webp", quality=80, method=4)
            if edge == 960:
                image.save(out / f"{path.stem}-{edge}.jpeg", quality=82, progressive=True)


def plain(path: Path) -> Image.Image:
    """The whole photo, upright and in sRGB, by Pillow's own means."""
    with Image.open(path) as opened:
        image = ImageOps.exif_transpose(opened)
    if profile := image.info.pop("icc_profile", None):
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        image = ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB")) or image
    image.info = {}
    return image


def with_pyvips(photos: Sequence[Path], out: Path) -> None:
    vips = importlib.import_module("pyvips")
    for path in photos:
        image = vips.Image.thumbnail(str(path), 1600, height=1600, export_profile="srgb").copy_memory()
        for edge in EDGES:
            if edge < 1600:
                image = image.thumbnail_image(edge, height=edge).copy_memory()
            image.webpsave(str(out / f"{path.stem}-{edge}.webp"), Q=80, effort=4, keep="none")
            if edge == 960:
                image.jpegsave(str(out / f"{path.stem}-{edge}.jpeg"), Q=82, interlace=True, keep="none")


def similarity(photos: Sequence[Path], out: Path) -> None:
    """Print the mean SSIM of the WebP files in *out*, an edge a column."""
    np = importlib.import_module("numpy")
    found: dict[int, list[float]] = {edge: [] for edge in EDGES}
    for path in photos:
        whole = plain(path)
        named = {one.width: one.name for one in _job(path).renditions if one.encoding.format == "WEBP"}
        for edge in EDGES:
            true = ImageOps.contain(whole, (edge, edge), Image.Resampling.LANCZOS)
            file = out / f"{path.stem}-{edge}.webp"
            with Image.open(file if file.exists() else out / named[true.width]) as made:
                luma = [np.asarray(image.convert("L"), dtype=np.float64) for image in (true, made)]
            found[edge].append(ssim(np, *luma))
    print(*(statistics.mean(values) for values in found.values()))


def ssim(np: Any, one: Any, other: Any) -> float:
    """Wang, Bovik, Sheikh and Simoncelli (2004), with windows of 7 x 7 of equal weight, K1 0.01, K2 0.03."""

    def mean(values: Any) -> Any:
        sums = np.pad(values.cumsum(0).cumsum(1), ((1, 0), (1, 0)))
        return (sums[7:, 7:] - sums[:-7, 7:] - sums[7:, :-7] + sums[:-7, :-7]) / 49

    a, b, c1, c2 = mean(one), mean(other), (0.01 * 255) ** 2, (0.03 * 255) ** 2
    sample = 49 / 48
    aa, bb, ab = (sample * (mean(x * y) - p * q) for x, y, p, q in (
        (one, one, a, a), (other, other, b, b), (one, other, a, b)))  # fmt: skip
    quotient = (2 * a * b + c1) * (2 * ab + c2) / ((a * a + b * b + c1) * (aa + bb + c2))
    return float(quotient.mean())


WAYS: dict[str, Callable[[Sequence[Path], Path], None]] = {
    "sitegen": with_sitegen,
    "pillow": with_pillow,
    "pyvips": with_pyvips,
    "similarity": similarity,
}


# --- measuring ------------------------------------------------------------------------------------------------


def command(way: str, photos: Sequence[Path], out: Path) -> list[str]:
    paths = [str(out), *map(str, photos)]
    return (
        ["node", "-e", SHARP, *paths] if way == "sharp" else [sys.executable, __file__, "--way", way, *paths]
    )


def measured(way: str, photos: Sequence[Path], out: Path, folder: Path) -> Cost:
    """Run one way. The figures are the kernel's, of the process and all it waited for."""
    out.mkdir(parents=True, exist_ok=True)
    environment = {**os.environ, "VIPS_CONCURRENCY": "1"}
    run = subprocess.Popen(command(way, photos, out), cwd=folder, env=environment)
    _, status, used = os.wait4(run.pid, 0)
    run.returncode = os.waitstatus_to_exitcode(status)
    if run.returncode:
        raise SystemExit(f"{way} failed")
    unit = 1 if sys.platform == "darwin" else 1024
    return Cost(used.ru_utime + used.ru_stime, used.ru_maxrss * unit / 2**20)


def fresh(out: Path) -> Path:
    shutil.rmtree(out, ignore_errors=True)
    return out


def rivals(sharp: Path) -> list[str]:
    found = ["pillow"]
    try:
        importlib.import_module("pyvips")
        found.append("pyvips")
    except (ImportError, OSError):
        print("pyvips is not installed: not compared")
    test = ["node", "-e", 'require("sharp")']
    if (
        shutil.which("node")
        and not subprocess.run(test, cwd=sharp, capture_output=True, check=False).returncode
    ):
        found.append("sharp")
    else:
        print("sharp is not installed: not compared")
    return found


def compare(rival: str, photos: Sequence[Path], work: Path, sharp: Path, pairs: int) -> None:
    ratios, largest = [], 0.0
    for _ in range(pairs):
        theirs = measured(rival, photos, fresh(work / rival), sharp)
        ours = measured("sitegen", photos, fresh(work / "sitegen"), sharp)
        ratios.append(ours.seconds / theirs.seconds)
        largest = max(largest, ours.megabytes)
        print(f"  {rival} {theirs.seconds:.2f} s, sitegen {ours.seconds:.2f} s, ratio {ratios[-1]:.3f}")
    median = statistics.median(ratios)
    print(
        f"{rival}: processor time {median:.3f} of theirs (to reach: {TARGETS[rival]:.2f}){_mark(median, rival)}"
    )
    print(
        f"  largest process: sitegen {largest:.0f} MiB (to reach: {MEMORY_MOST}), {rival} {theirs.megabytes:.0f} MiB"
    )


def _mark(median: float, rival: str) -> str:
    return "" if median <= TARGETS[rival] else "  MISSED"


def compare_quality(ways: Sequence[str], photos: Sequence[Path], work: Path) -> None:
    print(f"SSIM of WebP at {EDGES}, {len(photos)} photos (to reach: within {SSIM_WITHIN} of theirs):")
    for way in ways:
        text = subprocess.check_output(command("similarity", photos, work / way), text=True)
        size = sum(path.stat().st_size for path in (work / way).glob("*.webp")) / 1024
        print(
            f"  {way:8}",
            *(f"{float(value):.4f}" for value in text.split()),
            f"  {size:.0f} KiB of WebP in all",
        )


def second_run(photos: Sequence[Path], out: Path, folder: Path) -> None:
    before = {path: path.stat().st_mtime_ns for path in out.iterdir()}
    started = time.perf_counter()
    cost = measured("sitegen", photos, out, folder)
    wall = time.perf_counter() - started
    touched = {path: path.stat().st_mtime_ns for path in out.iterdir()} != before
    print(
        f"second run: {'something' if touched else 'nothing'} made, {cost.seconds:.2f} s, {wall:.2f} s on the clock"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0])
    parser.add_argument("--photos", type=int, default=24)
    parser.add_argument("--pairs", type=int, default=3)
    parser.add_argument("--work", type=Path, default=Path("build/bench-pictures"))
    parser.add_argument("--against", choices=TARGETS, action="append")
    parser.add_argument("--sharp", type=Path, default=Path())
    asked = parser.parse_args()
    work, sharp = asked.work.resolve(), asked.sharp.resolve()
    # In a process of its own: a large parent would be counted as memory of every child.
    subprocess.run(
        [sys.executable, __file__, "--photos-into", str(work / "photos"), str(asked.photos)], check=True
    )
    photos = [_photo(work / "photos", number) for number in range(asked.photos)]
    ways = [way for way in rivals(sharp) if way in (asked.against or TARGETS)]
    for rival in ways:
        compare(rival, photos, work, sharp, asked.pairs)
    compare_quality(["sitegen", *ways], photos[:SSIM_PHOTOS], work)
    second_run(photos, work / "sitegen", sharp)


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["--way", way, out, *photos]:
            WAYS[way]([Path(photo) for photo in photos], Path(out))
        case ["--photos-into", folder, count]:
            make_photos(Path(folder), int(count))
        case _:
            main()
