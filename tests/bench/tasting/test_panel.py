from __future__ import annotations

from fractions import Fraction

import pytest
from scipy import stats

from cardsmith.bench.model import BOUGHT, Result, Tasting
from cardsmith.bench.tasting.ballots import ballots
from cardsmith.bench.tasting.panel import TastingOutcome, faults, outcome
from cardsmith.bench.tasting.serving import right_code, servings
from cardsmith.finding import Where
from tests.bench.trial_samples import LEAN, read


def at(line: int) -> Where:
    return Where(file="trials.yaml", line=line)


def tasting(test: str, tasters: int, trials: tuple[int, ...] = (4, 6)) -> Tasting:
    return Tasting(
        where=at(1),
        name="salt",
        test=test,
        trials=trials,
        tasters=tasters,
        seed="417",
        attributes=("salt",),
    )


def answered(session: Tasting, results: list[Result]) -> Tasting:
    fields = {name: getattr(session, name) for name in session.__dataclass_fields__}
    return Tasting(**fields | {"results": tuple(results)})


def difference(test: str, tasters: int, right: int) -> TastingOutcome:
    """So many of the tasters picked the right cup."""
    session, results = tasting(test, tasters), []
    for served in servings(session):
        good = right_code(session, served)
        wrong = next(cup.code for cup in served.cups if cup.code not in {good, "R"})
        picked = good if served.taster <= right else wrong
        results.append(Result(where=at(served.taster), taster=served.taster, picked=picked))
    return outcome(answered(session, results))


def preference(tasters: int, first: int, none: int = 0) -> TastingOutcome:
    session, results = tasting("preference", tasters), []
    for served in servings(session):
        wanted = 4 if served.taster <= first else 6
        picked = next(cup.code for cup in served.cups if cup.trial == wanted)
        picked = "none" if served.taster > tasters - none else picked
        results.append(Result(where=at(served.taster), taster=served.taster, picked=picked))
    return outcome(answered(session, results))


def liking(scores: dict[int, list[int]], salt: dict[int, list[int]] | None = None) -> TastingOutcome:
    count = len(next(iter(scores.values())))
    session, results = tasting("liking", count, tuple(scores)), []
    for served in servings(session):
        for cup in served.cups:
            place = served.taster - 1
            results.append(
                Result(
                    where=at(100 * served.taster + cup.trial),
                    taster=served.taster,
                    code=cup.code,
                    liking=scores[cup.trial][place],
                    just_right={"salt": salt[cup.trial][place]} if salt else {},
                    words="dry" if place == 0 else "",
                )
            )
    return outcome(answered(session, results))


# The verdicts of the published table: 5 of 6 show a difference, 4 of 6 do not (FAO V7180E, appendix A).
@pytest.mark.parametrize(
    ("tasters", "right", "says"),
    [
        (6, 5, "can tell trials 4 and 6 apart (exact p = 0.018)"),
        (6, 4, "Not shown to differ (exact p = 0.101; 5 right would have shown it)"),
        (2, 2, "too few to show any difference, even had all been right"),
        (24, 13, "can tell trials 4 and 6 apart"),
        (24, 12, "Not shown to differ"),
    ],
)
def test_a_triangle_says_what_its_number_allows(tasters: int, right: int, says: str) -> None:
    found = difference("triangle", tasters, right)
    text = " ".join(found.conclusion)
    assert found.right == right
    assert found.p == pytest.approx(stats.binom.sf(right - 1, tasters, 1 / 3))
    assert says in text
    assert ("no proof that they are the same" in text) == ("can tell" not in text)
    assert "liked" not in text or "does not say which is better liked" in text


def test_a_small_test_says_how_many_more_would_do() -> None:
    assert "10 more tasters would likely show it" in " ".join(difference("triangle", 6, 4).conclusion)
    assert "more tasters" not in " ".join(difference("triangle", 40, 14).conclusion)


def test_a_duo_trio_guesses_half() -> None:
    found = difference("duo-trio", 12, 10)
    assert found.p == Fraction(79, 4096)  # (66 + 12 + 1) / 2^12
    assert "can tell" in " ".join(found.conclusion)


@pytest.mark.parametrize(
    ("tasters", "first", "says"),
    [
        (5, 5, "5 tasters: too few to claim a preference, even had all agreed."),
        (6, 6, "These tasters prefer trial 4 (exact two-sided p = 0.032)."),
        (10, 9, "These tasters prefer trial 4"),
        (10, 8, "No preference shown (exact two-sided p = 0.11; 9 would have shown one)."),
        (10, 1, "These tasters prefer trial 6"),
    ],
)
def test_a_preference_is_two_sided(tasters: int, first: int, says: str) -> None:
    text = " ".join(preference(tasters, first).conclusion)
    assert says in text
    assert ("not for readers" in text) == ("These tasters prefer" in text)


def test_no_preference_is_left_out_and_said() -> None:
    found = preference(10, 6, none=3)
    assert "6 of 7 tasters prefer trial 4, 1 trial 6." in found.conclusion
    assert "3 tasters without a preference left out." in found.conclusion


def test_six_tasters_are_too_few_and_it_says_how_many_more() -> None:
    text = " ".join(liking({4: [7, 6, 8, 5, 6, 7], 6: [6, 6, 7, 7, 4, 7]}).conclusion)
    assert "6 tasters: too few to claim a difference" in text
    assert "more tasters would settle a difference of one point" in text
    assert "don't speak for readers" in text


def test_a_paired_difference_is_scipys() -> None:
    first, second = [8, 8, 7, 8, 9, 7, 8, 8], [6, 7, 6, 6, 7, 6, 7, 5]
    found = liking({4: first, 6: second})
    (pair,) = found.comparisons
    low, high = stats.ttest_rel(first, second).confidence_interval()
    assert (pair.interval.low, pair.interval.high) == (pytest.approx(low), pytest.approx(high))
    assert any(line.startswith("These tasters like trial 4 better") for line in found.conclusion)


def test_three_trials_share_one_error() -> None:
    found = liking({4: [8, 7, 6, 7], 6: [6, 7, 5, 7], 7: [5, 6, 6, 7]})
    assert [pair.interval.confidence for pair in found.comparisons] == [Fraction(59, 60)] * 3


def test_scores_all_alike_prove_nothing() -> None:
    text = " ".join(liking({4: [7, 7, 7], 6: [6, 6, 6]}).conclusion)
    assert "all alike, no interval" in text
    assert "better" not in text


def test_a_penalty_is_named_and_not_proved() -> None:
    scores, salt = {4: [8, 8, 7, 7, 4]}, {4: [3, 3, 3, 3, 2]}
    text = " ".join(liking(scores, salt).conclusion)
    assert "salt too weak for 1 of 5 tasters, who like it 3.5 points less. Worth a trial; so few" in text
    assert "too weak" not in " ".join(liking({4: [8, 8, 7, 7, 7]}, salt).conclusion)


def test_words_are_kept_by_code() -> None:
    found = liking({4: [7, 7, 8], 6: [6, 5, 6]})
    assert {(trial, said) for trial, _, said in found.words} == {(4, "dry"), (6, "dry")}
    assert all(len(code) == 3 for _, code, _ in found.words)


def test_ballots_that_were_not_served_are_told_and_not_counted() -> None:
    session = tasting("triangle", 6)
    good = right_code(session, servings(session)[0])
    results = [
        Result(where=at(2), taster=1, picked=good),
        Result(where=at(3), taster=1, picked=good),
        Result(where=at(4), taster=2, picked="100"),
        Result(where=at(5), taster=9, picked="102"),
    ]
    found = answered(session, results)
    assert [one.where.line for one in faults(found)] == [3, 4, 5]
    assert outcome(found).answers == 1
    assert outcome(session).conclusion == ("No ballots yet.",)


@pytest.mark.parametrize(
    ("test", "says"),
    [
        ("triangle", "can tell the bought one and trial 6 apart"),
        ("preference", "12 of 12 tasters prefer the bought one, 0 trial 6."),
        ("liking", "These tasters like the bought one better: the bought one over trial 6 +4"),
    ],
)
def test_the_bought_product_is_a_sample_like_a_trial(test: str, says: str) -> None:
    session, results = tasting(test, 12, (BOUGHT, 6)), []
    for served in servings(session):
        codes = {cup.code: cup.trial for cup in served.cups}
        assert set(codes.values()) == {BOUGHT, 6}
        if test == "liking":
            results += [
                Result(
                    where=at(len(results)),
                    taster=served.taster,
                    code=code,
                    liking=(7 if trial == BOUGHT else 4) - served.taster % 3 * (trial == 6),
                    words="thin",
                )
                for code, trial in codes.items()
            ]
            continue
        bought = next(code for code, trial in codes.items() if trial == BOUGHT)
        picked = right_code(session, served) if test == "triangle" else bought
        results.append(Result(where=at(served.taster), taster=served.taster, picked=picked, words="thin"))
    found = outcome(answered(session, results))
    text = " ".join(found.conclusion)
    assert says in text
    if test == "liking":
        assert "The bought one: 7 (all alike, no interval) of 9, 12 tasters." in text
    told_of = {trial for trial, _, _ in found.words}
    assert told_of == {"triangle": {None}, "preference": {BOUGHT}, "liking": {BOUGHT, 6}}[test]


def test_the_serving_order_names_the_bought_one_and_no_ballot_does() -> None:
    printed = ballots(tasting("preference", 4, (6, BOUGHT)))
    assert printed.samples == "trial 6 and the bought one"
    assert {name for one in printed.ballots for _, name in one.cups} == {"trial 6", "the bought one"}
    assert all("bought" not in code for one in printed.ballots for code in one.codes)


def test_a_tasting_takes_bought_for_a_sample() -> None:
    session = "tastings: [{name: shop, test: preference, trials: [1, %s], tasters: 4, seed: 11}]\n"
    found, findings = read(LEAN + session % "bought")
    assert found is not None
    assert findings == ()
    assert found.tastings[0].trials == (1, BOUGHT)
    _, findings = read(LEAN + session % "bougt")
    assert [one.instead for one in findings if one.name == "tasting-unknown-trial"] == [
        "a trial of this file, or bought"
    ]
