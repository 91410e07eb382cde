"""Sheets of labels as a theme gives them: what one label measures on each paper."""

from sitegen.model.fields import LengthOf, Shape


class LabelPaper(Shape):
    """The margins above and at the sides of a paper, and the width and height of one label."""

    top: LengthOf
    side: LengthOf
    width: LengthOf
    height: LengthOf


class LabelSheet(Shape):
    """One kind of labels on both papers."""

    a4: LabelPaper
    letter: LabelPaper


class Labels(Shape):
    """Labels for boxes, two by five to a page, and for wearers, three by seven."""

    boxes: LabelSheet
    wearers: LabelSheet
