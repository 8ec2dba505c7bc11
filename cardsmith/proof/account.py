"""Everything a proof says, gathered before it is typeset."""

from __future__ import annotations

from collections.abc import Sequence

from cardsmith.finding import CardsmithError
from cardsmith.flow import Prepared
from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.proof.agreement import Agreement, agreement
from cardsmith.proof.changes import Changes, changes
from cardsmith.proof.fields import ProofField
from cardsmith.proof.snapshot import Snapshot, version_of_source
from cardsmith.proof.witness import Backing, backing
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.card.numbers import CardNumber


@frozen
class Account:
    """One recipe as its proof shows it."""

    prepared: Prepared
    card: Card
    version: str  # SHA-256 of the recipe file, as hexadecimal digits
    fields: tuple[ProofField, ...]
    numbers: tuple[CardNumber, ...]
    agreement: Agreement
    issued: Snapshot | None  # the issued proof with the same content; None where there is none yet
    previous: Snapshot | None  # the one issued before it
    changes: Changes  # since the previous one; none where there is none
    backings: tuple[tuple[Backing, ...], ...]  # of each change, for each of its numbers

    @property
    def is_draft(self) -> bool:
        """Whether anything found keeps the card from printing."""
        return not self.prepared.printable

    @property
    def unbacked(self) -> int:
        """How many numbers changed without a trial behind them."""
        return sum(backing.missing for backings in self.backings for backing in backings)

    def snapshot(self, date: str) -> Snapshot:
        """The snapshot kept when it is issued on ``date``.

        Raises:
            CardsmithError: it is issued already, or a draft with errors.
        """
        if self.issued:
            raise CardsmithError(f"proof {self.issued.number} of {self.issued.date} says this already")
        if self.is_draft:
            raise CardsmithError("a draft with errors is not issued: an editor signs what can be printed")
        recipe, trials = self.card.recipe, self.prepared.trials
        return Snapshot(
            recipe=self.prepared.name,
            number=self.previous.number + 1 if self.previous else 1,
            date=date,
            version=self.version,
            rests_on=recipe.tested.trial if recipe.tested else "",
            trials=tuple(trial.number for trial in trials.trials) if trials else (),
            printed=self.fields,
            source=self.prepared.source,
        )


def account(
    prepared: Prepared,
    card: Card,
    source: bytes,
    fields: tuple[ProofField, ...],
    numbers: tuple[CardNumber, ...],
    house: House,
    kept: Sequence[Snapshot],
) -> Account:
    """The account of a recipe. ``kept`` are the proofs issued so far, the oldest first.

    A card with the content of the last one is that proof, and is compared with the one before it.
    """
    version = version_of_source(source)
    latest = kept[-1] if kept else None
    same = latest is not None and latest.shows(version, fields)
    previous = (kept[-2] if len(kept) > 1 else None) if same else latest
    changed = changes(previous.printed, fields) if previous else Changes()
    known = previous.trials if previous else ()
    return Account(
        prepared=prepared,
        card=card,
        version=version,
        fields=fields,
        numbers=numbers,
        agreement=agreement(card, numbers, house),
        issued=latest if same else None,
        previous=previous,
        changes=changed,
        backings=tuple(
            tuple(backing(change, number, card.recipe, prepared.trials, known) for number in change.numbers)
            for change in changed.listed
        ),
    )
