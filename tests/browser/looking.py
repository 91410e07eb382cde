"""What can be wrong with how a page lies on a screen, asked of a real browser: each answer names what is wrong."""

from playwright.sync_api import Page

_SPILLS = """() => {
  const width = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= width) return [];
  const out = [...document.querySelectorAll("body *")].filter((one) =>
    one.checkVisibility() && one.getBoundingClientRect().right > width + 0.5);
  return [`${document.documentElement.scrollWidth} px`, ...out.map((one) => one.outerHTML.slice(0, 90))].slice(0, 5);
}"""
# Text that lies outside of an ancestor which hides what lies outside of it.
_CUT = """() => [...document.querySelectorAll("body *")].filter((one) => {
  if (one.children.length || !one.textContent.trim() || !one.checkVisibility()) return false;
  if (one.closest(".unseen, .skip, dialog, textarea, script, style")) return false;
  const inner = one.getBoundingClientRect();
  for (let box = one; box !== document.body; box = box.parentElement) {
    if (getComputedStyle(box).overflowX === "visible") continue;
    const outer = box.getBoundingClientRect();
    if (inner.right > outer.right + 1 || inner.left < outer.left - 1 || inner.bottom > outer.bottom + 1) return true;
    if (box.scrollWidth > box.clientWidth + 1) return true;
  }
  return false;
}).map((one) => one.outerHTML.slice(0, 90))"""
# A palette's colours: what is as pale as the paper needs a line around it.
_EDGELESS = """() => [...document.querySelectorAll(".band, .swatches .dot")].filter((one) => {
  if (!one.checkVisibility()) return false;
  const style = getComputedStyle(one), edge = one.matches(".dot") ? getComputedStyle(one.firstElementChild).stroke : "none";
  return edge === "none" && !parseFloat(style.borderTopWidth) && style.outlineStyle === "none";
}).map((one) => one.outerHTML.slice(0, 90))"""
# WCAG 2.2, 1.4.3: 4.5 to 1, and 3 to 1 from 24 px on, or from 18.66 px on where it is bold.
_FAINT = """() => {
  const channels = (colour) => colour.match(/[\\d.]+/g).map(Number);
  const light = (colour) => channels(colour).slice(0, 3).map((one) => one / 255)
    .map((one) => (one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4))
    .reduce((sum, one, i) => sum + one * [0.2126, 0.7152, 0.0722][i], 0);
  const ground = (one) => {
    for (let box = one; box; box = box.parentElement) {
      const dot = box.matches(".swatches li") && getComputedStyle(box).display === "grid"
        ? box.querySelector(".dot") : null;
      const colour = getComputedStyle(box).backgroundColor;
      if (dot && dot.getBoundingClientRect().width > 30) return getComputedStyle(dot).color;
      if (channels(colour)[3] !== 0) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  return [...document.querySelectorAll("body *")].filter((one) => {
    const own = [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
    if (!own || !one.checkVisibility() || one.closest("dialog, .skip, option")) return false;
    const style = getComputedStyle(one), size = parseFloat(style.fontSize);
    const large = size >= 24 || (size >= 18.66 && style.fontWeight >= 700);
    const [a, b] = [light(style.color), light(ground(one))];
    return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) < (large ? 3 : 4.5);
  }).map((one) => one.outerHTML.slice(0, 90));
}"""


def spills(page: Page) -> list[str]:
    """What lies beyond the right edge of the screen, where the page can be scrolled there."""
    found: list[str] = page.evaluate(_SPILLS)
    return found


def edgeless(page: Page) -> list[str]:
    """Give the colours of the palette around which no line is drawn."""
    return list(page.evaluate(_EDGELESS))


def cut(page: Page) -> list[str]:
    """What is written but hidden by an edge."""
    found: list[str] = page.evaluate(_CUT)
    return found


def faint(page: Page) -> list[str]:
    """What does not stand out from its ground, by computed contrast."""
    found: list[str] = page.evaluate(_FAINT)
    return found


def open_all(page: Page) -> None:
    page.evaluate("document.querySelectorAll('details').forEach((one) => (one.open = true))")
