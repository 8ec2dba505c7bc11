"""Which pots a clause speaks of: by the words for foods, for mixtures, for what was in hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from functools import cache

from cardsmith.facts.method.clause_words import INTO, has_target, is_colour, is_stranded, says_it
from cardsmith.facts.method.clauses import HEATING, JOINING, Clause, Deed, nouns
from cardsmith.facts.method.events import Event
from cardsmith.facts.method.pots import PartOfLine, Pot, drawn, names, once
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.mentions import How, Mention, Stranger
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from cardsmith.regex import regex

HOLDERS = frozenset(words("bag pouch skewer"))  # by which what was put into them is spoken of
_AT = frozenset(words("in over on together through into along"))
_PARTS = {"yolk": "yolk", "white": "white"}
_REST = frozenset(words("remaining rest reserved other leftover"))
_SOME = frozenset(words("half third quarter some little few most part bit spoonful ladleful"))
_SHARE = frozenset(words("half third quarter most"))  # of what is mixed by now: half the sausages
_NEW = frozenset(words("a an"))
_FILLS = frozenset(words("fill stuff top sandwich assemble"))
_THEM = frozenset(words("it them this these"))
_THAT = frozenset(words("the it them this your"))
_SAMPLE = frozenset(words("teaspoonful spoonful nugget sample pinch walnut tester"))
_DIPS = frozenset(words("soak dip coat dunk"))  # in what was mixed just before, where nothing else is named
_POURED = frozenset(words("pour tip strain ladle drizzle spoon scrape spread"))


class Pots:
    """Everything on the counter and the stove so far; ``portions`` holds what happened to each food."""

    def __init__(
        self,
        recipe: Recipe,
        strangers: Iterable[Stranger],
        *,
        named: Iterable[int],
        media: Iterable[int],
        flours: Iterable[int],
        eggs: Iterable[int],
        flesh: Iterable[int],
    ) -> None:
        self.recipe = recipe
        self.media = frozenset(media)  # lines that others cook in: oil, water
        self.flours = frozenset(flours)
        self.eggs = frozenset(eggs)
        self.flesh = frozenset(flesh)  # meat, poultry and fish, whose inside a thermometer tells
        self.portions: dict[int, dict[str, PartOfLine]] = {}
        self.whole: dict[int, PartOfLine] = {}  # lines that were used before they were parted
        self.pots: dict[PartOfLine, Pot] = {}
        self.focus: list[Pot] = []
        self.before: list[Pot] = []  # the focus before this one
        self.hand: list[Pot] = []  # what was prepared just now
        self.part = -1
        self.clock = 0
        self.unsaid: list[tuple[int, int, Event]] = []  # heat for what no clause names: when, in which part
        self.bath: Fraction | None = None  # °C of the water bath that was heated, until the food leaves it
        self.own = [names(part.name) for part in recipe.parts]
        self.lines: list[int] = [number for number, part in enumerate(recipe.parts) for _ in part.ingredients]
        self.words = [frozenset(words(line.item)) for line in recipe.ingredients]
        self.drawn = drawn(recipe)
        self.unnamed = {place for place in range(len(self.lines)) if place not in named}
        self.strange: dict[int, list[Stranger]] = {}
        for stranger in strangers:
            self.strange.setdefault(stranger.step, []).append(stranger)

    def _spoken_of(self, clause: Clause) -> tuple[list[Pot], list[Pot]]:
        """The pots of the lines a clause names: those acted on, and those it is done in, with or over."""
        direct: list[Pot] = []
        oblique: list[Pot] = []
        behind = False
        tokens = clause.tokens
        at = 0
        for mention in clause.mentions:
            while at < len(tokens) and tokens[at].start < mention.start:
                if tokens[at].word in INTO and tokens[at].start >= clause.at:
                    behind = True
                at += 1
            if is_colour(clause, mention):
                continue
            for portion in self._portions(clause, mention):
                (oblique if behind else direct).append(self._pot(portion))
        return once(direct), once(oblique)

    def _portions(self, clause: Clause, mention: Mention) -> list[PartOfLine]:
        """The portions of a line that a mention means."""
        clause_words = [token.word for token in clause.tokens if mention.start <= token.start < mention.end]
        mention = self._own(clause, mention, clause_words)
        known = self.portions.setdefault(mention.line, {})
        before = [token.word for token in clause.tokens if token.start < mention.start][-4:]
        tag = self._tag(mention, clause_words, before, known)
        if tag:
            if tag not in known:
                whole = None if tag.startswith("again") else self.whole.get(mention.line)
                known[tag] = PartOfLine(
                    line=mention.line, tag=tag, events=list(whole.events) if whole else []
                )
                if "" in known and tag in _PARTS.values():
                    self._leave(known.pop(""))
            return [known[tag]]
        return self._whole_of(mention.line)

    def _own(self, clause: Clause, mention: Mention, texts: list[str]) -> Mention:
        """A part's own line that a word may mean rather than another part's: "the sugar", "the yolks"."""
        if self.lines[mention.line] == clause.part or mention.how is How.LINK:
            return mention
        mine = [place for place, part in enumerate(self.lines) if part == clause.part]
        parted = {"egg"} if set(texts) & set(_PARTS) else set(texts)
        own = [place for place in mine if parted <= self.words[place] and not self.words[place] & set(_PARTS)]
        return replace(mention, line=own[0]) if own and texts else mention

    def _tag(
        self, mention: Mention, texts: list[str], before: list[str], known: dict[str, PartOfLine]
    ) -> str:
        item = self.words[mention.line]
        for word, tag in _PARTS.items():
            if word in texts and word not in item and "egg" in item:
                return tag
        again = before[-1:] == ["another"] or "raw" in (*texts, *before[-2:])
        once_more = again or before[-1:] in (["a"], ["an"], ["one"])
        if once_more and any(
            self._is_mixed(self._pot(portion)) or (again and portion.events) for portion in known.values()
        ):
            return f"again {mention.step} {mention.start}"  # another egg than the one that was used
        draw = self.drawn.get((mention.step, mention.start))
        if draw is not None:
            if draw.rest:
                return "rest"
            return (
                f"part {mention.step} {mention.start}"
                if draw.amount is not None or draw.share is not None
                else ""
            )
        close = set(before[-3:])
        if close & _REST and "the" in [*before, "the"] and not known.get("rest"):
            return "rest" if any(tag.startswith("part") for tag in known) or not known else ""
        whole = known.get("")
        mixed = bool(close & _SHARE) and whole is not None and len(self._pot(whole).portions) > 1
        if before[-2:] and close & _SOME and not close & {"remaining"} and not mixed:
            return f"part {mention.step} {mention.start}"
        return ""

    def _pot(self, portion: PartOfLine) -> Pot:
        if portion not in self.pots:
            pot = Pot(part=self.lines[portion.line], portions={portion: None}, used=self.clock)
            self.pots[portion] = pot
        return self.pots[portion]

    def _leave(self, portion: PartOfLine) -> None:
        pot = self.pots.pop(portion, None)
        if pot is not None:
            pot.portions.pop(portion, None)

    def _referred(self, clause: Clause, spoken: list[Pot]) -> tuple[list[Pot], list[Pot]]:
        """The pots a clause means by another word (the dough, the egg mixture), as `_spoken_of` has it."""
        direct: list[Pot] = []
        oblique: list[Pot] = []
        behind = False
        covered = [(mention.start, mention.end) for mention in clause.mentions]
        for at, token in enumerate(clause.tokens):
            behind = behind or (token.word in INTO and token.start >= clause.at)
            if any(start <= token.start < end for start, end in covered):
                continue
            pots: list[Pot] = []
            if token.word in self._part_words and token.word not in self.own[clause.part]:
                pots = self._of_parts(token.word)
            elif token.word in HOLDERS:
                pots = [pot for pot in self._all() if token.word in pot.names][-1:]
            elif token.word in nouns("mixture") and not self._is_new(clause, at):
                pots = self._mixture(clause, at, spoken)
            elif (line := self._kin(clause, token.start)) is not None:
                pots = [self._pot(portion) for portion in self._whole_of(line)]
            (oblique if behind else direct).extend(pots)
        return once(direct), once(oblique)

    def _kin(self, clause: Clause, start: int) -> int | None:
        """The one line of meat, poultry or fish that a general word may mean: "the beef" for flank steak."""
        for stranger in self.strange.get(clause.step, ()):
            roles = [role for role in _FLESH if stranger.food.share(role)]
            if (
                stranger.start == start
                and stranger.certain
                and roles
                and stranger.text in stranger.food.generic
            ):
                foods = ((line, self.recipe.ingredients[line].food) for line in sorted(self.flesh))
                mine = [line for line, food in foods if food is not None and food.share(roles[0])]
                return mine[0] if len(mine) == 1 else None
        return None

    def _whole_of(self, line: int) -> list[PartOfLine]:
        """The portions of a line; all of it where no clause has used it yet."""
        known = self.portions.setdefault(line, {})
        if not known:
            known[""] = self.whole[line] = PartOfLine(line=line, tag="")
        return list(known.values())

    @property
    def _part_words(self) -> frozenset[str]:
        return frozenset().union(*self.own) if len(self.own) > 1 else frozenset()

    def _of_parts(self, word: str) -> list[Pot]:
        parts = {number for number, names in enumerate(self.own) if word in names}
        return [pot for portion, pot in self.pots.items() if self.lines[portion.line] in parts]

    def _mixture(self, clause: Clause, at: int, spoken: list[Pot]) -> list[Pot]:
        word = clause.tokens[at].word
        pots = self._all()
        named = [pot for pot in pots if word in pot.names]
        if named:
            return named[-1:]
        if word in _doughs():
            doughs = [
                pot
                for pot in pots
                if pot.names & _doughs() or any(part.line in self.flours for part in pot.portions)
            ]
            return doughs[-1:]
        before = {token.word for token in clause.tokens[max(at - 2, 0) : at]} - {"the"} - descriptors()
        if word in ("mixture", "foam") and before:
            held = [pot for pot in pots if any(before & self.words[part.line] for part in pot.portions)]
            if held:
                return held[-1:]
        others = [pot for pot in pots if pot not in spoken and pot.portions and pot.part == clause.part]
        mixed = [pot for pot in others if len({part.line for part in pot.portions}) > 1]
        focus = [pot for pot in self.focus if pot.portions and pot not in spoken and not self._is_medium(pot)]
        if word != "mixture":  # what has a name of its own is not meant by another
            nameless = [pot for pot in mixed if not pot.names - self.own[clause.part]]
            mixed = nameless or mixed
        if _goes_on_top(clause):  # "pour in the custard" is not what it is poured on
            under = [pot for pot in mixed if pot not in focus]
            focus = [] if under else focus
            mixed = under or mixed
        return (focus if focus and focus[0] in mixed else mixed[-1:]) or focus or others[-1:]

    def _is_new(self, clause: Clause, at: int) -> bool:
        """Whether a noun is what the clause makes: "to a dough", "until you have a batter"."""
        clause_words = [token.word for token in clause.tokens[max(at - 3, 0) : at]]
        if not clause_words:
            return False
        raw = clause.tokens[at]
        until = clause.text.find("until", 0, raw.start - clause.start)
        return (
            bool(set(clause_words) & _NEW)
            or clause_words[-1] == "into"
            or until >= 0
            or (clause_words[-1] == "the" and "for" in clause_words and at < 5)
        )

    def _objects(self, clause: Clause, direct: list[Pot], oblique: list[Pot], named: list[Pot]) -> list[Pot]:
        """The pots a clause acts on, with what it leaves unsaid."""
        pots = once([*direct, *oblique, *named])
        after = next((token.word for token in clause.tokens if token.start >= clause.at), "")
        if clause.deed in HEATING and not pots and self._heats_a_stranger(clause):
            return []
        if not pots:
            held = self._held(clause) or self._unnamed(clause)
            if (
                clause.deed is Deed.MIX
                and len(held) == 1
                and (clause.verb in _FILLS or is_stranded(clause) or _into_the_bowl(clause))
            ):
                held = once([*held, *self._other(clause, held)])
            return held
        adds = clause.verb in {"add", "return"} or clause.deed is Deed.PREPARE or goes_inside(clause)
        dips = clause.verb in _DIPS and INTO.isdisjoint(word.word for word in clause.tokens)
        dips = dips or (
            clause.verb in {"fill", "stuff"} and "with" not in {word.word for word in clause.tokens}
        )
        implied = (not direct and not named) or after in _AT or adds or dips
        if adds and (oblique and has_target(clause)):
            implied = False
        said = says_it(clause)
        joins = (clause.deed in JOINING | {Deed.PREPARE} or goes_inside(clause)) and (
            implied or (said and clause.deed is not Deed.SERVE)
        )
        if clause.deed is Deed.MIX and is_stranded(clause):
            held = self._held(clause)
            object_in_hand = not (direct or named) or after in _THEM or set(held) <= set(pots)
            return once(
                [*held, *(self._other(clause, [*held, *pots]) if held and object_in_hand else ()), *pots]
            )
        if joins and not (after in _AT and oblique and named):
            held = self._held(clause)
            return once([*(self.hand if self.hand and set(held) <= set(pots) else held), *pots])
        return pots

    def _held(self, clause: Clause) -> list[Pot]:
        """What "it" is: what was prepared just now, else what was mixed or heated last."""
        if self.hand and clause.verb not in _POURED:
            return self.hand
        focus = self.focus
        if focus and all(self._is_medium(pot) for pot in focus) and clause.deed in HEATING:
            others = [
                pot for pot in self._all() if pot.portions and not pot.is_aside and not self._is_medium(pot)
            ]
            return once([*focus, *others[-1:]])
        if not focus and clause.deed in HEATING and (clause.part == 0 or self._is_last(clause)):
            return self._all()
        if not focus and clause.deed is Deed.SERVE:
            return self._all()
        return focus or self.hand

    def _is_mixed(self, pot: Pot) -> bool:
        """Whether foods lie together there, beside what they are cooked in."""
        return len({part.line for part in pot.portions} - self.media) > 1

    def _is_medium(self, pot: Pot) -> bool:
        """Whether a pot holds nothing but what food is cooked in."""
        return all(part.line in self.media for part in pot.portions)

    def _unnamed(self, clause: Clause) -> list[Pot]:
        """What no step names, where a clause has nothing else to act on: "Seal in a bag and cook"."""
        mine = [line for line in sorted(self.unnamed) if self.lines[line] == clause.part]
        self.unnamed -= set(mine)
        for line in mine:
            self.portions[line] = {"": PartOfLine(line=line, tag="")}
        return [self._pot(self.portions[line][""]) for line in mine]

    def _is_last(self, clause: Clause) -> bool:
        return not self.recipe.parts[clause.part].ingredients

    def _other(self, clause: Clause, held: list[Pot]) -> list[Pot]:
        """The pot before the one in hand: whisk the eggs, heat the butter, *pour in*."""
        parts = {clause.part, held[0].part}
        return [pot for pot in self._all() if pot.part in parts and pot not in held and pot.portions][-1:]

    def _all(self) -> list[Pot]:
        """Every pot, the last spoken of last."""
        return sorted(once(self.pots.values()), key=lambda pot: pot.used)

    def _heats_a_stranger(self, clause: Clause) -> bool:
        """Whether what is heated is a food that no line has, or only a taste of one: boil the potatoes."""
        clause_words = [token.word for token in clause.tokens if token.start >= clause.at]
        if (
            clause_words[:1] == ["a"]
            and _SAMPLE.intersection(clause_words[1:3])
            and "time" not in clause_words
        ):
            return True  # fry a teaspoonful, and taste
        if (
            clause_words[:1] in (["a"], ["an"])
            and clause_words[2:3] == ["of"]
            and _THAT.isdisjoint(clause_words[3:4])
        ):
            return True
        title = set(words(self.recipe.title))
        return any(
            clause.start <= stranger.start < clause.end
            and _is_own_dish(stranger)
            and title.isdisjoint(words(stranger.text))
            for stranger in self.strange.get(clause.step, ())
        )


@cache
def _doughs() -> frozenset[str]:
    """Nouns for what lies under or around the rest: dough, pastry, base."""
    return frozenset(words(row["word"])[0] for row in table("part_words") if row["sort"] == "dough")


def goes_inside(clause: Clause) -> bool:
    """Whether something goes into what is in hand: "put the lemon inside"."""
    clause_words = [token.word for token in clause.tokens]
    on_top = clause.verb == "set" and "top" in clause_words
    return on_top or (clause.deed is Deed.MIX and not _INSIDE.isdisjoint(clause_words))


def _goes_on_top(clause: Clause) -> bool:
    """Whether a clause adds to what is in hand, unnamed: "pour in the custard", "pour over the sauce"."""
    after = next((token.word for token in clause.tokens if token.start >= clause.at), "")
    return clause.verb in _POURED and after in _AT


def _into_the_bowl(clause: Clause) -> bool:
    """Whether something is poured to what lies in a bowl already: "pour into the bowl", "into the well"."""
    return clause.deed is Deed.MIX and clause.says(_BOWL)


_BOWL = regex(r"\b(?:(?:in)?to the (?:bowl|well|dry \w+)|over the (?:top|surface|lot)|on top|all over)\b")
_INSIDE = frozenset(words("inside cavity underneath top surface"))  # of what is in hand
_FLESH = ("meat", "poultry", "fish", "shellfish")
_OTHERS_FOOD = ("vegetable", "fruit", "meat", "poultry", "fish", "shellfish", "legume", "rice", "egg", "nut")


def _is_own_dish(stranger: Stranger) -> bool:
    """Whether a food the list lacks is a thing by itself, and no word for what the recipe makes."""
    return stranger.food.is_mainly(*_OTHERS_FOOD)
