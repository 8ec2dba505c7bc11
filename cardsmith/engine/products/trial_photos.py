"""The photos of a recipe's trials, made ready for a report."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from cardsmith.bench.model import Trial, Trials
from cardsmith.files.reading import Reader, Refused
from cardsmith.finding import Finding, Severity
from cardsmith.frozen import frozen
from cardsmith.recipe.model import Text
from cardsmith.render.papers.bench import TrialPicture
from cardsmith.render.pictures.prepare import Box, PictureRefused, inspect, is_drawing, whole

PLACE = Box(width=Fraction(160), height=Fraction(130))  # points: 2.2 inches wide (bench.css)


@frozen
class TrialPhotos:
    """The pictures in the order of the trials, and what is wrong with those that can't be shown."""

    pictures: tuple[TrialPicture, ...]
    findings: tuple[Finding, ...]


def trial_photos(reader: Reader, file: Path, trials: Trials) -> TrialPhotos:
    """The photos that ``file``, a recipe's trials, names; they stand beside it."""
    results = [_photo(reader, file, trial, at) for trial in trials.trials for at in range(len(trial.photos))]
    return TrialPhotos(
        pictures=tuple(result for result in results if isinstance(result, TrialPicture)),
        findings=tuple(result for result in results if isinstance(result, Finding)),
    )


def _photo(reader: Reader, file: Path, trial: Trial, at: int) -> TrialPicture | Finding:
    photo = trial.photos[at]
    try:
        data = reader.read_beside(file, photo.text)
        if data is None:
            instead = "lay the picture there, or take its name out of photos:"
            return _told("photo-missing", photo, f"there is no {photo.text} beside the trials", instead)
        drawing = is_drawing(photo.text)
        made = inspect(photo.text, data) if drawing else whole(photo.text, data, PLACE)
    except PictureRefused as refused:
        return _told("photo-refused", photo, refused.what, refused.instead)
    except Refused as refused:
        _, what, instead = refused.args
        return _told("photo-refused", photo, f"{photo.text} {what}", instead)
    return TrialPicture(
        trial=trial.number,
        name=f"trial-{trial.number}-{at + 1}.{'svg' if drawing else 'jpg'}",
        data=made,
        alt=f"Trial {trial.number}: {photo.text}",
    )


def _told(name: str, photo: Text, what: str, instead: str) -> Finding:
    width = max(1, len(photo.text))
    return Finding(
        name=name, severity=Severity.WARNING, where=photo.where, what=what, instead=instead, width=width
    )
