"""How different two colours look (CIEDE2000), and how well text stands out on a ground (WCAG 2.2)."""

from coloraide import Color


def difference(one: str, other: str) -> float:
    """Give the CIEDE2000 difference of two sRGB colours written as `#rrggbb`."""
    return Color(one).delta_e(other, method="2000")


def contrast(one: str, other: str) -> float:
    """Give the contrast ratio of WCAG 2.2, from 1 to 21."""
    return Color(one).contrast(other, method="wcag21")
