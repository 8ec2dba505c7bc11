from __future__ import annotations

import pytest

from cardsmith.check.run import BY_NAME
from cardsmith.finding import Severity
from tests.check.bench import found
from tests.check.safety_cases import dish

BEANS = "250 g dried kidney beans; 1 l water"


@pytest.mark.parametrize(
    ("step", "severity"),
    [
        ("Boil the beans hard for 30 minutes, then simmer for 1 hour.", None),
        ("Boil the beans hard for 10 minutes, then simmer for 1 hour.", Severity.WARNING),
        ("Boil the beans for 10 to 15 minutes.", Severity.WARNING),
        (
            "Soak the beans and drain. Put them in a pot with 2 litres of fresh water. Bring to a full "
            "rolling boil and keep it boiling hard for 30 minutes.",
            None,
        ),
        ("Bring the beans to a boil. Let them boil for 10 minutes.", Severity.WARNING),
        ("Bring the beans to a boil. Keep the water just below boiling for 1 hour.", Severity.ERROR),
        ("Bring the beans to a boil and simmer for 1 hour.", Severity.ERROR),
        ("Bring the beans to a boil. Simmer for 1 hour.", Severity.ERROR),
        ("Cook the beans on low for 8 hours.", Severity.ERROR),
        ("Cook the beans in a pressure cooker for 40 minutes.", None),
    ],
)
def test_time_at_a_full_boil(step: str, severity: Severity | None) -> None:
    told = found("beans-underboiled", dish(BEANS, step))
    assert [one.severity for one in told] == ([severity] if severity else [])


def test_beans_boiled_too_briefly_are_told_apart_from_never() -> None:
    (never,) = found("beans-underboiled", dish(BEANS, "Cook the beans in a slow cooker for 8 hours."))
    (short,) = found(
        "beans-underboiled", dish(BEANS, "Boil the beans for 10 minutes, then simmer for 1 hour.")
    )
    assert (never.severity, "slow cooker" in never.what) == (Severity.ERROR, True)
    assert (short.severity, "30" in short.what) == (Severity.WARNING, True)


@pytest.mark.parametrize(
    "name",
    [
        "doneness-too-low", "perishable-kept-warm", "left-out-too-long", "pickle-kept-warm",
        "oil-kept-warm", "low-acid-canned", "curing-salt-excess", "curing-salt-unweighed",
        "held-in-danger", "beans-underboiled", "long-hold-too-low", "never-cooked",
        "poisonous-part", "unsafe-as-written", "nutmeg-too-much", "claim-contradicted",
    ],
)  # fmt: skip
def test_no_reason_makes_it_safe(name: str) -> None:
    assert BY_NAME[name].severity is Severity.ERROR
    assert not BY_NAME[name].acceptable
