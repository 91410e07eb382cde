"""What a first-timer takes from the kitchen, and how to keep what was made until it is carried.

Common practice, no source, but for: worn flowers stay cold until about an hour before (a panel of florists,
botanicalbrouhaha.com, panel 6). Two hours in water before flowers are used (`render/making.py`) are taught by
the Floral Design Institute and by university extension sheets; not earlier than two days before is a
workshop's rule for amateurs.
"""

from collections.abc import Iterator

from sitegen.render.words import Words

TIED = ("hand-tied", "flat-laid")


def kitchen(method: str, cup: str, copies: int, _: Words, *, bound: bool = True) -> tuple[str, ...]:
    """List what is not in the box: *cup* says how wide a glass is, *bound* whether what ties it is there."""
    string = () if bound or method not in TIED else (_("string, an arm’s length for each"),)
    return (*_always(_), *string, *_for(method, cup, copies, _))


def _always(_: Words) -> tuple[str, ...]:
    return (
        _("a sharp pair of scissors or garden cutters"),
        _("a tape measure"),
        _("a tea towel"),
        _("a bucket or tall jug"),
        _("a bag for leaves"),
    )


def _for(method: str, cup: str, copies: int, _: Words) -> Iterator[str]:
    if method in TIED:
        yield _.plural("{n} glass {cup} across", "{n} glasses {cup} across", copies, cup=cup)
    elif method == "vase-built":
        yield _("a small watering can")
    elif method == "wired":
        yield _("a flat box with a lid")
        yield _("kitchen paper")
    elif method == "garland":
        yield _("a long table")
        yield _("a spray bottle with water")
        yield _("a clean sheet")
    elif method == "frame":
        yield _("a second pair of hands")
        yield _("a spray bottle with water")


def keep(method: str, _: Words) -> str:
    """Say how to keep what was made, and what to do with it on the day."""
    cool = _("The coolest room is best, out of the sun and away from fruit.")
    dry = _("On the day, dry the ends with the towel just before they are handed over.")
    box = _("Lay them in the flat box on damp kitchen paper, the lid on.")
    damp = _("Spray a little water over everything and lay the damp sheet on top.")
    out = _("Out of water they are well for about an hour, in heat for less.")
    if method in TIED:
        return " ".join((_("Overnight they stand in water."), cool, dry, out))
    if method == "vase-built":
        return " ".join((cool, _("In the morning top up the water. Carry them upright.")))
    if method == "wired":
        return " ".join((box, cool, _("Take them out about an hour before they are worn.")))
    return f"{damp} {cool} {out}"
