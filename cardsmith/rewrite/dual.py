"""One amount on its own in both systems, and how a `Dual` is put together."""

from __future__ import annotations

from cardsmith.house import House
from cardsmith.measure.units import Dimension
from cardsmith.rewrite.card import Dual
from cardsmith.rewrite.counted import printables
from cardsmith.rewrite.printable import Printable, Subject, by_weight_only


def dual(subject: Subject, written: str, us: Printable, metric: Printable) -> Dual:
    """Both printed forms with the author's amount and what the step between them rests on."""
    dimensions = {us.printed.dimension, metric.printed.dimension, subject.dimension}
    dense = subject.density if dimensions >= {Dimension.MASS, Dimension.VOLUME} else None
    basis = dense or (subject.one if Dimension.COUNT in dimensions else None)
    bought = basis.bought_basis if basis and basis is not dense and not subject.ready else ""
    return Dual(
        author=written,
        exact=subject.exact,
        dimension=subject.dimension,
        metric=metric.printed,
        us=us.printed,
        density=dense.grams if dense else None,
        assumed="; ".join(filter(None, (basis.basis, bought))) if basis else "",
        metric_error=metric.error,
        us_error=us.error,
    )


def single_dual(subject: Subject, written: str, house: House) -> Dual:
    """An amount that nothing else must agree with: the cheapest expression inside its tolerance."""
    spread = house.tolerances[subject.role_class]
    us, metric = (
        min(
            printables(subject, house, spread, system) or (by_weight_only(subject, house),),
            key=lambda one: (one.cost, abs(one.error)),
        )
        for system in ("us", "metric")
    )
    return dual(subject, written, us, metric)
