"""A card as PDF: laid out in the best setting that fits, its words counted, then written for the screen."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from urllib.parse import quote

from cardsmith.house.paper import CardSize
from cardsmith.house.style import CardStyle
from cardsmith.render import audit
from cardsmith.render.card.even import UNEVEN, even_heights
from cardsmith.render.card.fit import Layout, Setting, fit, photo_height, photo_room
from cardsmith.render.card.overfull import overfull
from cardsmith.render.card.ruler import ruler
from cardsmith.render.card.view import CardView
from cardsmith.render.pictures.prepare import Box
from cardsmith.render.sizes import measures
from cardsmith.render.templates import environment
from cardsmith.render.typesetter import PHOTOS, LayoutError, Typesetter


def lay_out_card(
    view: CardView, typesetter: Typesetter, style: CardStyle, photos: Mapping[str, bytes]
) -> Layout:
    """The card laid out in the house's size; ``photos`` are the picture files by name.

    Every word is counted before anything is written.

    Raises:
        Overfull: the text runs past the last card, even in the smallest type.
        LayoutError: words lost, off the page or over others; a warning of the typesetter.
    """
    size = style.size
    rulers = {
        f"ruler-{unit}.svg": ruler(typesetter.templates, size.text_width, unit) for unit in ("in", "cm")
    }
    files = {**photos, **rulers}

    def lay_out(setting: Setting, view: CardView = view, heights: Mapping[str, str] = UNEVEN) -> Layout:
        html = print_html(view, typesetter, style, setting, photos, heights)
        document = typesetter.lay_out(html, files)
        faults = audit.faults(document, html, view.texts(), view.numbers)
        return Layout(setting=setting, html=html, document=document, faults=faults)

    photo = view.photo is not None and view.photo.name in photos
    layout = fit(view, size, style, lay_out, photo=photo)
    if layout.faults:
        raise LayoutError(f"{view.plain_title}: " + "; ".join(layout.faults))
    if not layout.fits:
        raise overfull(view, layout, size, style, lambda shorter: lay_out(layout.setting, shorter))
    return _evened(layout, size, lambda heights: lay_out(layout.setting, heights=heights))


def _evened(layout: Layout, size: CardSize, lay_out: Callable[[Mapping[str, str]], Layout]) -> Layout:
    """The same with the two columns of each side as even as they can be, where that changes anything."""
    if size.columns == 1 or not layout.setting.sides:
        return layout
    heights = even_heights(layout.document)
    even = lay_out(heights) if heights != UNEVEN else layout
    return even if even.fits else layout


def print_html(
    view: CardView,
    typesetter: Typesetter,
    style: CardStyle,
    setting: Setting,
    photos: Mapping[str, bytes] | None = None,
    heights: Mapping[str, str] = UNEVEN,
) -> str:
    """The page the typesetter reads; ``heights`` are those of the columns of its front and back."""
    size = style.size
    words = (f"card-{size.name}", f"columns-{size.columns}", "sides" if setting.sides else "running")
    photo, height, gap = "", "", ""
    if setting.photo and view.photo:
        cropped = f"{setting.photo}-{view.photo.name}"
        photo = PHOTOS + quote(cropped if cropped in (photos or {}) else view.photo.name)
        inside = photo_height(size, setting.photo)
        height = f"{float(inside + style.bleed):.6g}pt"
        gap = f"{float(photo_room(size, setting) + size.top - inside):.6g}pt"
    return (
        environment(typesetter.templates)
        .get_template("print.html.j2")
        .render(
            view=view,
            setting=" ".join(words),
            text=f"{float(setting.text):g}",
            photo=photo,
            photo_height=height,
            photo_gap=gap,
            page=measures(size, style.bleed, setting.text)
            | {"shown": size.shown, **heights}
            | _small_type(setting, style),
        )
    )


def _small_type(setting: Setting, style: CardStyle) -> dict[str, str]:
    """Sizes below that of the text, none below the house's floor."""
    shares = {"notes": Fraction(835, 1000), "storage": Fraction(88, 100)}
    return {name: f"{float(max(share * setting.text, style.notes)):.6g}pt" for name, share in shares.items()}


def photo_boxes(style: CardStyle) -> dict[str, Box]:
    """The places a photo may fill: across the card, or one column and its margin, and over the cut."""
    size, bleed = style.size, style.bleed
    inside = size.width + bleed if size.columns == 1 else size.side + size.column_width
    return {
        name: Box(width=inside + bleed, height=photo_height(size, name) + bleed) for name in ("tall", "low")
    }
