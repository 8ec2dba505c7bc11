"""What a batch weighs when it is finished, how many pieces and portions it makes, and who says so."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.bench.formula.balance import SLACK, mixture
from cardsmith.bench.model import Trial, Trials
from cardsmith.bench.wording import figure, share
from cardsmith.facts.kinds import kind_of, loss_said_by
from cardsmith.frozen import frozen
from cardsmith.language.declension import one
from cardsmith.language.listing import listed
from cardsmith.measure.units import Dimension
from cardsmith.portion.estimate import NOTHING, Estimate, between, exactly
from cardsmith.portion.portion_file import NO_FACTS, Facts
from cardsmith.recipe.model import Recipe
from cardsmith.reference import OURS, Tables


@frozen
class Finished:
    """One batch. ``kept`` is the share of what was mixed that got as far as the oven or the plate."""

    mass: Estimate | None  # g; None where nobody can tell
    kept: Estimate
    rejects: Estimate  # share of the finished batch
    pieces: Estimate | None  # sound ones
    portions: Estimate | None
    piece_name: str  # cracker; empty where nothing is counted
    basis: tuple[str, ...]  # where each figure comes from

    @property
    def sound(self) -> Estimate:
        """The share of what was mixed that can be served."""
        wasted = self.rejects
        least = 1 - (wasted.high if wasted.high is not None else Fraction(1))
        good = Estimate(low=least, likely=1 - wasted.likely, high=1 - wasted.low)
        high = None if self.kept.high is None or good.high is None else self.kept.high * good.high
        return Estimate(low=self.kept.low * good.low, likely=self.kept.likely * good.likely, high=high)

    @property
    def portion_mass(self) -> Estimate | None:
        """Grams of one portion as it is served."""
        if self.mass is None or self.portions is None:
            return None
        wasted = self.rejects
        good = Estimate(
            low=self.mass.low * (1 - (wasted.high or Fraction(0))),
            likely=self.mass.likely * (1 - wasted.likely),
            high=None if self.mass.high is None else self.mass.high * (1 - wasted.low),
        )
        return good.over(self.portions)


def usual_loss(kind: str, tables: Tables = OURS) -> Estimate | None:
    """What a kind usually loses between list and plate, as a share; None where no table says."""
    for row in tables.rows("kind_losses"):
        if row["kind"] == kind and row["low"] and row["high"]:
            low, likely, high = (Fraction(row[end]) / 100 for end in ("low", "typical", "high"))
            return Estimate(low=low, likely=likely, high=high)
    return None


def finished(
    recipe: Recipe, mixed: Estimate, facts: Facts = NO_FACTS, trials: Trials | None = None
) -> Finished:
    """The finished batch of what was ``mixed`` (grams of all that is eaten).

    A weighing counts before a statement, a statement before the yield, the yield before what is usual.
    """
    makes = _makes(recipe)
    weighed = _trials_of(recipe, trials)
    if weighed:
        return _by_trials(recipe, mixed, facts, weighed, makes)
    basis: list[str] = []
    mass, explained = _mass(recipe, mixed, facts, makes)
    basis.append(explained)
    rejects = exactly(facts.rejects) if facts.rejects is not None else NOTHING
    if facts.rejects:
        basis.append(f"{share(facts.rejects)} can't be served (stated)")
    pieces = makes.times(1 - rejects.likely) if makes else None
    return Finished(
        mass=mass,
        kept=exactly(1),
        rejects=rejects,
        pieces=pieces,
        portions=_portions(recipe, makes, pieces, rejects),
        piece_name=_piece_name(recipe),
        basis=tuple(filter(None, basis)),
    )


def _mass(
    recipe: Recipe, mixed: Estimate, facts: Facts, makes: Estimate | None
) -> tuple[Estimate | None, str]:
    if facts.finished is not None:
        return exactly(facts.finished), f"the finished batch weighs {figure(facts.finished)} g (stated)"
    yields = recipe.yields
    count = makes or (_serves(recipe) if yields and yields.makes is None else None)
    if yields and yields.piece and yields.piece.dimension is Dimension.MASS and count:
        each = between(yields.piece.low, yields.piece.high)
        mass = Estimate(
            low=each.low * count.low,
            likely=each.likely * count.likely,
            high=(each.high or each.likely) * (count.high or count.likely),
        )
        pieces = f"{figure(count.likely)} of {yields.piece.written}"
        return mass, f"the yield, {pieces}, weighs {figure(mass.likely)} g"
    loss = usual_loss(kind_of(recipe), recipe.tables)
    if loss is None or loss.high is None or not mixed.likely:
        return None, "what the finished batch weighs is nowhere said"
    kind, source = kind_of(recipe).replace("-", " "), loss_said_by(kind_of(recipe), recipe.tables)
    mass = Estimate(
        low=mixed.low * (1 - loss.high),
        likely=mixed.likely * (1 - loss.likely),
        high=None if mixed.high is None else mixed.high * (1 - loss.low),
    )
    span = f"{figure(loss.low * 100)} to {share(loss.high)}"
    return mass, (
        f"no weighing: about {figure(mass.likely)} g, since a {kind} usually loses {span}, "
        f"mostly {share(loss.likely)} ({source})"
    )


def _trials_of(recipe: Recipe, trials: Trials | None) -> tuple[Trial, ...]:
    """The makes of the formula the recipe rests on of which the finished mass was weighed."""
    number = recipe.tested.trial if recipe.tested else ""
    trial = trials.get(int(number)) if trials and number.isdecimal() else None
    if trials is None or trial is None:
        return ()
    return tuple(make for make in trials.makes(trial) if _out(make) and mixture(make.ingredients).mass)


def _out(trial: Trial) -> Fraction | None:
    return trial.value("cooled") or trial.value("out")


def _by_trials(
    recipe: Recipe, mixed: Estimate, facts: Facts, makes: tuple[Trial, ...], stated: Estimate | None
) -> Finished:
    """The mean over the makes, each taken to the size of the printed batch."""
    scale = [mixed.likely / mixture(make.ingredients).mass for make in makes]
    out = [by * (_out(trial) or Fraction(0)) for by, trial in zip(scale, makes, strict=True)]
    kept = [
        min(into / mixture(make.ingredients).mass, Fraction(1))
        for make in makes
        if (into := make.value("in")) is not None
    ]
    counted = [
        by * number
        for by, trial in zip(scale, makes, strict=True)
        if (number := trial.value("pieces")) is not None
    ]
    wasted = [
        lost if (lost := 1 - number * piece / out_) > 2 * SLACK else Fraction(0)  # less is the scale's
        for make in makes
        if (number := make.value("pieces")) and (piece := make.value("piece")) and (out_ := _out(make))
    ]
    names = listed([str(make.number) for make in makes])
    which = f"trial{'s' if len(makes) > 1 else ''} {names}"
    mass = _mean(out)
    basis = [f"the finished batch weighs {figure(mass.likely)} g by {which}"]
    if kept:
        basis.append(f"{share(1 - _mean(kept).likely)} stayed behind before the heat ({which})")
    rejects = _mean(wasted) if wasted else NOTHING
    if facts.rejects is not None:
        rejects = exactly(facts.rejects)
        basis.append(f"{share(facts.rejects)} can't be served (stated)")
    elif rejects.likely:
        basis.append(f"{share(rejects.likely)} broke or was lost after it ({which})")
    pieces = _mean(counted) if counted else stated
    if counted:
        basis.append(f"{figure(_mean(counted).likely)} sound pieces ({which})")
    return Finished(
        mass=mass,
        kept=_mean(kept) if kept else exactly(1),
        rejects=rejects,
        pieces=pieces,
        portions=_portions(recipe, stated, pieces, rejects),
        piece_name=_piece_name(recipe),
        basis=tuple(basis),
    )


def _mean(values: list[Fraction]) -> Estimate:
    mean = sum(values, start=Fraction(0)) / len(values)
    return Estimate(low=min(values), likely=mean, high=max(values))


def _makes(recipe: Recipe) -> Estimate | None:
    yields = recipe.yields
    if yields is None or not yields.makes_count:
        return None
    return between(yields.makes_count, yields.makes_high or yields.makes_count)


def _serves(recipe: Recipe) -> Estimate | None:
    yields = recipe.yields
    if yields is None or not yields.serves_low:
        return None
    return between(yields.serves_low, yields.serves_high or yields.serves_low)


def _portions(
    recipe: Recipe, makes: Estimate | None, pieces: Estimate | None, rejects: Estimate
) -> Estimate | None:
    """How many portions can be served: the yield's, less the pieces that can't be served."""
    serves = _serves(recipe)
    if serves is None:
        return None
    if makes is None or pieces is None or makes.likely == 1:
        return serves.times(1 - rejects.likely)
    return serves.times(pieces.likely / makes.likely)


def _piece_name(recipe: Recipe) -> str:
    yields = recipe.yields
    if yields is None or yields.makes_count is None:
        return ""
    before, space, noun = yields.makes_item.strip().rpartition(" ")
    return f"{before}{space}{one(noun)}"
