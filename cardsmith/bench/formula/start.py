"""The trial that the next one starts from."""

from __future__ import annotations

from cardsmith.bench.model import Trial, Trials
from cardsmith.finding import CardsmithError
from cardsmith.language.listing import listed


def start_of(trials: Trials | None, number: int | None) -> Trial | None:
    """The trial that the next one starts from: of a number, else the latest kept, else the latest.

    A make from the printed card tries the card: of those kept, it is the last resort.

    Raises:
        CardsmithError: there is no trial of that number.
    """
    if number is not None:
        named = trials.get(number) if trials else None
        if named is None:
            known = listed([str(trial.number) for trial in trials.trials]) if trials else "none"
            raise CardsmithError(f"there is no trial {number}; trials here: {known}")
        return named
    every = trials.trials if trials else ()
    kept = [trial for trial in every if trial.call in {"keep", "settle"}]
    ours = [trial for trial in kept if not trial.cooked_from]
    return next((rows[-1] for rows in (ours, kept, every) if rows), None)
