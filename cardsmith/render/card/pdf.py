"""A card as PDF: laid out in the best setting that fits, its words counted, then written for the screen."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import partial
from math import inf
from urllib.parse import quote

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.house.settings import CardStyle
from cardsmith.render import audit
from cardsmith.render.card.air import air_of, airy
from cardsmith.render.card.columns import APART, Columns, list_columns
from cardsmith.render.card.even import UNEVEN, evened
from cardsmith.render.card.fit import Layout, fit
from cardsmith.render.card.overfull import overfull
from cardsmith.render.card.places import Place, places
from cardsmith.render.card.ruler import ruler, text_font
from cardsmith.render.card.setting import Setting
from cardsmith.render.card.view import CardView, PhotoView
from cardsmith.render.faces import need_letters
from cardsmith.render.pictures.prepare import shape_of
from cardsmith.render.sizes import LEADING, measures
from cardsmith.render.templates import environment
from cardsmith.render.typesetter import PHOTOS, LayoutError, Typesetter

_NOTES = Fraction(4, 5)  # of the smallest text
_STORAGE = Fraction(9, 10)
RULED = {"us": "in", "metric": "cm"}
_WARNING = Fraction(9)  # points: what a reader must know before eating; common practice, no source
_PAIR = 95  # points: total carbohydrate less than 1 g, in small print
_LETTER = 0.47  # em, mean of the headnote's text
_WIDE = 0.55  # em, mean of the letters of a label
_CELL = 14  # points on both sides of a fact that stands in a cell
_WIDER = tuple(map(Fraction, range(12, 72, 12)))  # points of the first column that the list takes
_LEAST_BESIDE = 115  # points that are left of it
_ROOMY = 9.5  # em for the names of a list, which then take few lines
_MOST = 0.8  # of a picture's height, that what it stands beside may have with the facts beside it too
_OPENING, _TITLE = (
    20,
    24.0,
)  # points: the line above a title; a title's mean of width and height of its letters


def lay_out_card(
    view: CardView, typesetter: Typesetter, style: CardStyle, photos: Mapping[str, bytes]
) -> Layout:
    """The card laid out in the house's size.

    ``photos`` hold the picture as it is by its name and, where it is no drawing, made ready for each of its
    places by the name that this gives it. Every word is counted before anything is written.

    Raises:
        Overfull: the text runs past the last card, even in the smallest type.
        LayoutError: words lost, off the page or over others; a warning of the typesetter.
        StrangeFace: a word of the title has letters that its face lacks.
    """
    ways: list[_Way] = []
    least = inf
    for column_style in _in_its_columns(view, style, typesetter):
        if (fitted := _fitted(view, typesetter, column_style, photos, least)) is not None:
            ways.append(fitted)
            least = min(least, fitted.layout.against)
    way = min(ways, key=lambda way: (bool(way.layout.faults), not way.layout.fits, way.layout.against))
    layout = way.layout
    if layout.faults:
        raise LayoutError(f"{view.plain_title}: " + "; ".join(layout.faults))
    if not layout.fits:
        shorten = partial(way.lay_out, layout.setting)
        raise overfull(view, layout, way.style.size, way.style, lambda shorter: shorten(view=shorter))
    need_letters(audit.lines(layout.document), typesetter.templates)
    return _spaced(view, way)


@frozen
class _Way:
    """A card laid out in the columns of a style, and how to lay it out again."""

    style: CardStyle
    layout: Layout
    lay_out: Callable[..., Layout]  # by a setting, other words, other spacing


def _fitted(
    view: CardView, typesetter: Typesetter, style: CardStyle, photos: Mapping[str, bytes], least: float
) -> _Way | None:
    """The best way in the columns of a style; None where more than ``least`` speaks against each."""
    size = style.size
    rulers = {
        f"ruler-{side}.svg": ruler(typesetter.templates, size.text_width, unit)
        for side, unit in zip(("right", "left"), ruled_in(view), strict=True)
    }

    def lay_out(setting: Setting, view: CardView = view, spacing: Mapping[str, str] = UNEVEN) -> Layout:
        picture = _picture(view, setting, photos)
        html = print_html(view, typesetter, style, setting, spacing, picture)
        files = rulers | ({picture: photos[picture]} if picture else {})
        document = typesetter.lay_out(html, files)
        faults = audit.faults(document, html, view.texts(), view.numbers)
        return Layout(setting=setting, html=html, document=document, faults=faults, files=files)

    there = view.photo and photos.get(view.photo.name)
    stands = places_of(view.photo, style, there) if view.photo and there else ()
    layout = fit(view, size, replace(style, text=_sizes(view, style, typesetter)), lay_out, stands, least)
    return _Way(style=style, layout=layout, lay_out=lay_out) if layout else None


def ruled_in(view: CardView) -> tuple[str, str]:
    """The units of the rulers on right-hand and left-hand pages: both systems in turn, or the card's one."""
    units = [RULED[system.key] for system in view.systems]
    return ("in", "cm") if len(units) > 1 else (units[0], units[0])


def _spaced(view: CardView, way: _Way) -> Layout:
    """The same with its two columns as even as they can be, or one with air, where that changes anything."""
    layout = way.layout
    as_it_is = {**UNEVEN, **air_of(layout.setting)}
    if way.style.size.columns == 1:
        tries: list[Mapping[str, str]] = [airy(view, layout)]
    elif layout.setting.sides:
        tries = [
            evened(layout.document, way.style.size, layout.setting, aired=aired) for aired in (True, False)
        ]
    else:
        tries = []
    for spacing in tries:
        if {**as_it_is, **spacing} == as_it_is:
            break
        spaced = way.lay_out(layout.setting, spacing=spacing)
        if spaced.fits and spaced.pages == layout.pages:
            return spaced
    return layout


def _in_its_columns(view: CardView, style: CardStyle, typesetter: Typesetter) -> Iterator[CardStyle]:
    """A card in the columns of its size, or in one where half of it would divide the words of its list.

    Where half of it is narrow for its list, also with the list in the second, so much wider than the first.
    """

    def columns(size: CardSize) -> Columns:
        return list_columns(view, size, style.text[-1], text_font(typesetter.templates))

    if style.size.columns == 1:
        yield style
        return
    half = columns(style.size)
    if not half.divided:
        yield style
    yield in_one_column(style)
    if not half.divided and half.names >= _ROOMY:
        return
    sizes = [
        replace(style.size, widened=more)
        for more in _WIDER
        if style.size.column_width - more >= _LEAST_BESIDE
    ]
    whole = [(size, wider.names) for size in sizes if not (wider := columns(size)).divided]
    if whole:
        yield replace(style, size=next((size for size, names in whole if names >= _ROOMY), whole[-1][0]))


def in_one_column(style: CardStyle) -> CardStyle:
    """The same size of card without columns."""
    return replace(style, size=replace(style.size, columns=1))


def _sizes(view: CardView, style: CardStyle, typesetter: Typesetter) -> tuple[Fraction, ...]:
    """The sizes of type at which least of the list is divided: in narrow columns the smaller."""
    font = text_font(typesetter.templates)
    columns = {text: list_columns(view, style.size, text, font) for text in style.text}
    least = min(list_column.divided for list_column in columns.values())
    return tuple(text for text, list_column in columns.items() if list_column.divided == least)


def places_of(photo: PhotoView, style: CardStyle, data: bytes) -> tuple[Place, ...]:
    """The places for a card's picture in the order they are tried; ``data`` is the picture as it is."""
    return places(style.size, style.bleed, shape_of(photo.name, data), photo.place, style.places)


def _picture(view: CardView, setting: Setting, photos: Mapping[str, bytes]) -> str:
    """The name of the picture that a setting shows; empty for none."""
    if view.photo is None or setting.photo is None:
        return ""
    made = setting.photo.file(view.photo.name)
    return made if made in photos else view.photo.name


def print_html(
    view: CardView,
    typesetter: Typesetter,
    style: CardStyle,
    setting: Setting,
    spacing: Mapping[str, str] = UNEVEN,
    picture: str = "",
) -> str:
    """The page the typesetter reads; ``spacing``: the height of its columns, air beyond its setting's."""
    size = style.size
    columns = list_columns(view, size, setting.text, text_font(typesetter.templates))
    place = setting.photo
    words = [f"card-{size.name}", f"columns-{size.columns}", "sides" if setting.sides else "running"]
    words += (
        ["aside"] * (size.widened > 0)
        + ["whole"] * setting.whole
        + ["narrow"] * (columns.divided > 0)
        + ["crowded"] * _crowded(view, size, setting.text)
    )
    return (
        environment(typesetter.templates)
        .get_template("print.html.j2")
        .render(
            view=view,
            stacked=columns.stacked,
            say=view.say,
            setting=" ".join([*words, *(_shown_at(place, view, size, setting.text) if place else ())]),
            turned=setting.turned,
            text=f"{float(setting.text):g}",
            photo=_placed(place, setting, PHOTOS + quote(picture)) if place else None,
            page=measures(size, style.bleed, setting.text)
            | {"shown": size.shown, "item": columns.letters, "pairs": _pairs(size)}
            | {**UNEVEN, **air_of(setting), **spacing}
            | _small_type(style)
            | {"cut": f"{setting.cut(size, 1):.6g}pt", "first_cut": f"{setting.cut(size, 0):.6g}pt"},
            columns=columns.systems,
            apart=f"{APART:g}pt",
        )
    )


def _crowded(view: CardView, size: CardSize, text: Fraction) -> bool:
    """Whether a line has no room for a cell of each fact: its label, and the longest piece of its text."""
    pieces = ((fact.label, *fact.text.striptags().split(" ")) for fact in view.facts)
    return sum(_CELL + max(map(len, of)) * _WIDE * float(text) for of in pieces) > size.column_width


def _shown_at(place: Place, view: CardView, size: CardSize, text: Fraction) -> Iterator[str]:
    """What the style sheet must know of a picture's place."""
    yield f"photo-{place.name}"
    if place.upright:
        yield "upright"
    if place.flowed and place.name != "notes":
        yield "flowed"
        beside = float(size.text_width - place.indent)
        height = len(view.headnote.striptags()) * _LETTER * float(text) / beside * float(LEADING * text)
        if place.name == "beside":  # the title is beside it too
            height += _OPENING + len(view.plain_title) * _TITLE**2 * _LETTER / beside
        if height > _MOST * float(place.depth(text)):
            yield "headed"  # these are about as high as the picture: the facts go below all


def _placed(place: Place, setting: Setting, source: str) -> dict[str, str]:
    """A picture for the templates: where it stands, and its lengths in CSS."""
    lengths = {
        "width": place.box.width,
        "height": place.box.height,
        "gap": place.gap(setting.text),
        "beside": place.indent,
    }
    return {"place": place.name, "flow": " flowed" if place.flowed else "", "source": source} | {
        name: f"{float(value):.6g}pt" for name, value in lengths.items()
    }


def _pairs(size: CardSize) -> int:
    """How many labels, with a value each, stand in a row of the small table of what a portion holds."""
    return max(int(size.column_width / _PAIR), 1)


def _small_type(style: CardStyle) -> dict[str, str]:
    """Sizes below that of the text, the same on every card; none is below its floor."""
    least = style.text[-1]
    sizes = {
        "notes": max(_NOTES * least, style.notes),
        "storage": max(_STORAGE * least, min(_WARNING, least)),
    }
    return {name: f"{float(size):.6g}pt" for name, size in sizes.items()}
