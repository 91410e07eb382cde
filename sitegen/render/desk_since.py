"""What has moved since an approval, as the florist's page shows it."""

from sitegen.render.desk import Line, SinceApproval
from sitegen.render.desk_figures import Figures
from sitegen.render.desk_progress import Moved


def since_approval(moved: Moved, figures: Figures) -> SinceApproval:
    """Say each move and what it does to what is left; that no agreed figure changes is said, too."""
    _, amount = figures.voice.words, figures.amount
    moves = tuple(
        Line(
            f"{one.name}: {one.what}" if one.what else one.name,
            _signed(one.left, figures) if one.left else "",
        )
        for one in moved.moves
    )
    sums = (
        Line(_("Left after what is in the recipes, as approved"), amount(moved.was)),
        Line(_("Made as the content is today"), amount(moved.now)),
    )
    return SinceApproval(
        title=_("Since approval on {day}", day=figures.day(moved.day)),
        moves=moves,
        sums=sums if moved.was != moved.now else (),
        closing=_("No agreed figure changes.") if moves else _("Nothing has moved."),
    )


def _signed(units: int, figures: Figures) -> str:
    return ("+" if units > 0 else "") + figures.amount(units)
