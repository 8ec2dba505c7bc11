"""Words by which a line says what it is: labels (Ingredients), phrases (Dear, keeps), verbs of a step."""

from __future__ import annotations

from functools import cache

from cardsmith.frozen import frozen
from cardsmith.language.figures.numbers import NUMBER_WORDS
from cardsmith.language.word_classes import vessel_words
from cardsmith.reference import Tables, table
from cardsmith.regex import regex

_WORD = regex(r"[^\W_]+(?:['’.][^\W_]+)*\.?")
_BRACKETS = regex(r"\s*\([^()]*\)\s*$")
_COLON = regex(r"\s*[:：]\s*")
_DASHED = regex(r"\s+[-–—]+\s+|\.\s*(?:-{2,}|[–—]+)\s*")  # "Method - ", "Method.—"
_CLAUSE = regex(r"[.;:,!]\s+(?:(?:and|then)\s+)?|\s+(?:and|then)\s+")
_FOR_WHOM = regex(r"\s+for\s+\w+(?:\s+\w+)?$")  # Ingredients for two
_WORKED = frozenset({"active", "prep", "cook"})
_WHOSE = regex(r"\w+(?:'s|s')\s+")  # Marek's tip
_DETERMINERS = frozenset("the a an each both all it them your two well".split())
_HEADS = frozenset({"ingredients", "method"})  # "Glaze ingredients" heads the list of the glaze
AROUND_NAMES = " .,:-–—*_~="  # marks that a label or the name of a component is set off with
_AROUND = "-–—=_*~ ()[]{}<>"  # marks that a note to the editor is set off with
SHORT_WORD = 4  # letters; "with" and "from" have no capital
LONGEST_GREETING = 5  # words
LONGEST_LABEL = 40  # characters


@frozen
class LineLabel:
    """A word that says what follows it, and what follows in the same line."""

    opens: str  # ingredients, steps, makes … as draft_labels.csv has it
    label: str  # as written
    rest: str  # behind its colon; empty where the line is the label alone
    colon: bool

    @property
    def heads(self) -> str:
        """What it opens where it stands alone: "Cooking:" heads what is done, "Cooking: 1 h" is a time."""
        return "" if self.rest else "steps" if self.opens in _WORKED else self.opens


def plain(text: str) -> str:
    """A text in small letters, with straight apostrophes, one blank between words."""
    return " ".join(text.lower().replace("’", "'").split())


def without_brackets(text: str) -> str:
    """A text without brackets at its end: Date bread (not kneaded)."""
    return _BRACKETS.sub("", text)


def without_eaters(label: str) -> str:
    """A label without for whom it is: Ingredients for two, INGREDIENTS (for 8)."""
    return _FOR_WHOM.sub("", label.partition("(")[0].strip(" :"))


def label_of(text: str) -> LineLabel | None:
    """The label that a line is, or that it begins with before a colon.

    >>> label_of("INGREDIENTS (for 8):").opens, label_of("Serves: 4").rest, label_of("Salt: 5 g")
    ('ingredients', '4', None)
    >>> label_of("Ingredients for two:").opens, label_of("Cooking: 1 h").opens, label_of("Cooking").heads
    ('ingredients', 'cook', 'steps')
    """
    head, _, rest = text.partition(":")
    colon = len(head) < len(text)
    if not colon and (dash := _DASHED.search(text)) and dash.start() < LONGEST_LABEL:
        head, rest, colon = text[: dash.start()], text[dash.end() :], True
    if len(head) > LONGEST_LABEL:
        return None
    name = plain(_BRACKETS.sub("", head).strip(AROUND_NAMES + "[]"))
    ways = (name, _WHOSE.sub("", name), _FOR_WHOM.sub("", name))
    opens = next((label for beginning in ways if (label := _labels().get(beginning))), "")
    return LineLabel(opens=opens, label=head.strip(), rest=rest.strip(), colon=colon) if opens else None


@cache
def _labels() -> dict[str, str]:
    return {row["label"]: row["opens"] for row in table("draft_labels")}


def says(text: str, what: str) -> str:
    """The words of ``what`` (a greeting, a closing, desk …) that a text says; empty for none.

    >>> says("Hi Ines,", "greeting"), says("Thanks!", "closing"), says("Best flour", "closing")
    ('hi', 'thanks', '')
    """
    bare = plain(text)
    words = bare.strip(" .,!:;-–—")
    for phrase, where in _phrases().get(what, ()):
        if where == "whole":
            is_phrase = words == phrase
        elif where == "colon":
            is_phrase = bare.startswith(f"{phrase}:")
        elif where == "word":
            is_phrase = phrase in words_in(text)
        elif where == "start":
            is_phrase = bare.startswith(phrase) and not bare[len(phrase) : len(phrase) + 1].isalnum()
        else:
            is_phrase = phrase in bare
        if is_phrase:
            return phrase
    return ""


def named_part(text: str) -> tuple[str, str]:
    """The name of a component, and the words beside it that its place says.

    >>> named_part("For the glaze:"), named_part("[Glaze ingredients]")
    (('Glaze', 'For the'), ('Glaze', 'ingredients'))
    """
    bare = text.strip(AROUND_NAMES)
    bare = bare if bare[:1] + bare[-1:] not in ("()", "[]") else bare[1:-1]
    text_words = bare.split() or [text]
    behind = [text_words.pop()] if len(text_words) > 1 and text_words[-1].lower() in _HEADS else []
    lead = 0
    if text_words[0].lower() == "for" and len(text_words) > 1:
        lead = 2 if text_words[1].lower() == "the" and len(text_words) > 2 else 1
    name = " ".join(text_words[lead:])
    return name[:1].upper() + name[1:], " ".join((*text_words[:lead], *behind))


@cache
def said_by(what: str) -> frozenset[str]:
    """All words that say ``what``: people by portions, covers."""
    return frozenset(phrase for phrase, _ in _phrases()[what])


@cache
def _phrases() -> dict[str, tuple[tuple[str, str], ...]]:
    rows = table("draft_phrases")
    by_first: dict[str, list[tuple[str, str]]] = {}
    for row in sorted(rows, key=lambda row: -len(row["phrase"])):
        by_first.setdefault(row["says"], []).append((row["phrase"], row["where"]))
    return {name: tuple(listed) for name, listed in by_first.items()}


def to_desk(text: str) -> str:
    """The words by which a text speaks to the editor, set off by marks or not; empty for none."""
    return says(text, "desk") or says(text.strip(_AROUND), "desk")


def addresses(text: str) -> str:
    """The words by which a line speaks to somebody: a greeting, a name before a comma or a dash.

    >>> addresses("Dear Ines,"), addresses("Hal -"), addresses("Glaze:")
    ('dear', 'hal', '')
    """
    if len(text_words := words_in(text)) > LONGEST_GREETING:
        return ""
    named = text.endswith((",", " -", " –")) and is_name(text.rstrip(",-– "), apart=True)
    named = named and not set(text_words) & (part_words() | kind_words()) and label_of(text) is None
    return says(text, "greeting") or (text_words[0] if text_words and named and len(text_words) <= 2 else "")


def is_capitalised(text: str) -> bool:
    """Whether each longer word begins with a capital, as in many a title: Beans on the Coals."""
    return all(word[:1].isupper() for word in text.split() if len(word) > SHORT_WORD)


def is_name(text: str, *, apart: bool) -> bool:
    """Whether a line may be who sends it: R. Ayre; where it stands apart, any words with capitals.

    >>> is_name("R. Ayre", apart=False), is_name("Dorrit", apart=True), is_name("Serve.", apart=True)
    (True, True, False)
    """
    text_words = text.split()
    if not text_words:
        return False
    initial = len(text_words) > 1 and len(text_words[0]) == 2 and text_words[0].endswith(".")
    return (
        (initial or apart)
        and all(word[:1].isupper() for word in text_words)
        and not text.rstrip().endswith(".")
    )


def words_in(text: str) -> tuple[str, ...]:
    """The words of a text in small letters."""
    return tuple(word.lower().replace("’", "'") for word in _WORD.findall(text))


@cache
def deeds() -> frozenset[str]:
    """Verbs that a step may begin with."""
    further = frozenset(phrase for phrase, _ in _phrases()["deed"])
    return further | {row["word"] for row in table("step_deeds") if " " not in row["word"]}


def deed_of(text: str) -> str:
    """The verb that tells a cook what to do, at the head of a sentence; empty where it begins otherwise.

    >>> deed_of("In a bowl, whisk the eggs."), deed_of("Next day beat in egg"), deed_of("The dough is soft.")
    ('whisk', 'beat', '')
    """
    head, *others = text.split(",", 2)
    if deed := _leads(head):
        return deed
    opened = says(text, "opener")
    behind = words_in(head)[len(words_in(opened)) :][:1]
    clauses = (*behind, *others) if opened else ()
    return next(filter(None, map(_leads, clauses)), "")


def _leads(clause: str) -> str:
    """The verb that a clause begins with, or that its first adverb belongs to."""
    opening = words_in(clause)[:2]
    verb = (opening[-1] if opening and opening[0].endswith("ly") else "".join(opening[:1])).rstrip(".")
    if verb in _foods_too() and not set(clause.lower().split()[1:2]) & (_DETERMINERS | NUMBER_WORDS):
        return ""
    return verb if verb in deeds() else ""


@cache
def _foods_too() -> frozenset[str]:
    """Verbs that name foods and tools as well: "Butter a tin" is a step, "butter for the tin" is not."""
    return frozenset(phrase for phrase, where in _phrases()["deed"] if where == "determined")


def deeds_in(text: str) -> tuple[str, ...]:
    """The verbs that tell a cook what to do, each at the head of a clause.

    >>> deeds_in("In a bowl, whisk the eggs; fold in flour and bake at once. The cake is soft.")
    ('whisk', 'fold', 'bake')
    """
    clauses = (clause for clause in _CLAUSE.split(text) if len(clause.split()) > 1)
    return tuple(filter(None, map(deed_of, clauses)))


@cache
def tools(tables: Tables) -> frozenset[str]:
    """Words for vessels and tools: pan, whisk, thermometer."""
    return vessel_words(tables) | {row["word"] for row in table("kitchen_words") if row["kind"] == "tool"}


@cache
def part_words() -> frozenset[str]:
    """Words that name a component: dough, glaze, filling."""
    return frozenset(row["word"] for row in table("part_words")) | {
        row["word"] for row in table("separate_parts")
    }


@cache
def kind_words() -> frozenset[str]:
    """The last words of names of dishes: bread, soup, cake."""
    names = (name for row in table("kinds") for name in (row["kind"], *row["aliases"].split("|")))
    return frozenset(name.rpartition("-")[2] for name in names if name)
