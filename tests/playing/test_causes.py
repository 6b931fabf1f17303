"""Causes: the algebra against brute force, and planted faults of the full model found."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from borewright.errors import PlayingError
from borewright.model.results.causes import odds_words
from borewright.playing import MeasuredNote, as_built, diagnose
from borewright.playing.causes.next_reading import worths
from borewright.playing.causes.posterior import Posterior
from borewright.playing.causes.readings_to_take import Candidate
from borewright.playing.causes.suspects import Suspect
from borewright.playing.readings import reading
from borewright.words import say

NOTHING = say("nothing")


def suspect(direction, spread, odds, hole):
    return Suspect("diameter", "", hole, NOTHING, NOTHING, direction, direction, "mm", spread, odds)


@pytest.fixture(scope="module")
def small():
    """Five unknowns, four suspects, seven observations: small enough for every set by hand."""
    rng = np.random.default_rng(5)
    root = rng.normal(size=(5, 5))
    usual, slopes = root @ root.T / 20, rng.normal(size=(7, 5))
    noise = np.diag(rng.uniform(0.05, 0.2, 7)) + 0.02
    found = [suspect(np.eye(5)[k], 0.5 + 0.4 * k, 0.1 + 0.1 * k, f"H{k}") for k in range(4)]
    observed = slopes @ np.array([0.1, 0.5, 0.0, -0.4, 0.1]) + rng.normal(0, 0.3, 7)
    return usual, found, slopes, observed, noise


def by_hand(small):
    """Weights, means and covariances of every set of up to three faults, from full matrices."""
    usual, found, slopes, observed, noise = small
    results = {}
    for count in range(4):
        for members in itertools.combinations(range(4), count):
            prior = usual + sum(
                (found[k].spread ** 2 * np.outer(found[k].direction, found[k].direction)
                 for k in members),
                np.zeros_like(usual),
            )  # fmt: skip
            total = slopes @ prior @ slopes.T + noise
            odds = np.prod([found[k].odds for k in members])
            weight = odds * multivariate_normal(np.zeros(7), total).pdf(observed)
            gain = prior @ slopes.T @ np.linalg.inv(total)
            results[members] = (weight, gain @ observed, prior - gain @ slopes @ prior)
    return results


def test_every_set_is_weighed_as_full_matrices_weigh_it(small):
    """Against scipy's multivariate normal density, a general reference."""
    posterior, hand = Posterior(*small), by_hand(small)
    total = sum(weight for weight, _, _ in hand.values())
    assert posterior.log_evidence == pytest.approx(
        np.log(total) + 3.5 * np.log(2 * np.pi), abs=1e-9
    )
    seen = set()
    for members, weight in zip(posterior.sets, posterior.weights, strict=True):
        key = tuple(sorted(int(k) for k in members if k < 4))
        seen.add(key)
        assert weight == pytest.approx(hand[key][0] / total, rel=1e-6)
    assert len(seen) == len(posterior.sets) == 15
    for k in range(4):
        share = sum(w for key, (w, _, _) in hand.items() if k in key) / total
        assert posterior.probability(k) == pytest.approx(share, rel=1e-6)


def test_moments_and_quantiles_are_those_of_the_mixture(small):
    posterior, hand = Posterior(*small), by_hand(small)
    weights = np.array([w for w, _, _ in hand.values()])
    weights = weights / weights.sum()
    means = np.array([m for _, m, _ in hand.values()])
    mean = weights @ means
    covariance = sum(
        w * (c + np.outer(m - mean, m - mean))
        for w, (_, m, c) in zip(weights, hand.values(), strict=True)
    )
    found_mean, found_covariance = posterior.moments()
    assert found_mean == pytest.approx(mean, abs=1e-9)
    assert found_covariance == pytest.approx(covariance, abs=1e-9)
    # Quantiles against a large sample of the mixture: a thousandth in probability.
    rng = np.random.default_rng(1)
    quantity = np.array([0.3, 1.0, -0.5, 0.0, 0.2])
    spread = np.sqrt([quantity @ c @ quantity for _, _, c in hand.values()])
    drawn = rng.choice(len(weights), 400_000, p=weights)
    sample = (means @ quantity)[drawn] + spread[drawn] * rng.normal(size=len(drawn))
    for share in (0.025, 0.5, 0.975):
        below = np.mean(sample < posterior.quantile(quantity, share))
        assert below == pytest.approx(share, abs=0.002)


def test_a_reading_is_worth_what_a_simulation_says(small):
    """How often the first cause is right after a reading: by sums, and by drawing the truth."""
    usual, found, slopes, observed, noise = small
    posterior, hand = Posterior(*small), by_hand(small)

    class Belief:
        pass

    belief = Belief()
    belief.posterior, belief.found = posterior, found
    single = Candidate(NOTHING, "", "", "", np.eye(5)[1:2], np.array([[0.04]]), 1.0)
    double = Candidate(NOTHING, "", "", "", np.eye(5)[1:3], 0.04 * np.eye(2), 2.0)
    rng = np.random.default_rng(2)
    keys = list(hand)
    weights = np.array([hand[key][0] for key in keys])
    weights = weights / weights.sum()
    for candidate in (single, double):
        [worth] = worths(belief, [candidate])
        right = []
        rows = len(candidate.reads)
        for _ in range(1500):
            key = keys[rng.choice(len(keys), p=weights)]
            truth = rng.multivariate_normal(hand[key][1], hand[key][2])
            read = candidate.reads @ truth + rng.normal(0, 0.2, rows)
            both = np.zeros((7 + rows, 7 + rows))
            both[:7, :7], both[7:, 7:] = noise, candidate.noise
            after = Posterior(
                usual, found, np.concatenate([slopes, candidate.reads]),
                np.concatenate([observed, read]), both,
            )  # fmt: skip
            first = max(range(4), key=after.probability)
            right.append(first in key)
        # 1500 truths: 95 % within 2.5 in a hundred; several rows are a sample of 250 as well.
        assert worth.right_after == pytest.approx(np.mean(right), abs=0.025 * rows)
        assert worth.bits > 0.01


def test_a_planted_hole_is_named_with_its_size_and_the_gauge_that_decides(
    chalumeau, takes_of, changed
):
    instrument, table = chalumeau
    true = changed(instrument, R1_diameter=-0.4)
    found = diagnose(instrument, table, takes_of(true, table, 4))
    first = found.causes[0]
    assert (first.kind, first.hole) == ("diameter", "R1")
    assert str(first.words) == "R1 too small"
    assert first.probability > 0.5
    assert first.amount.low < -0.4 < first.amount.high
    assert first.amount.high - first.amount.low < 0.5
    assert found.nothing < 0.1
    assert any("R1" in str(each.words) or each.item == "diameter" for each in found.next_readings)
    # The gauge settles it.
    gauged = reading("diameter", instrument.part("body").hole("R1").diameter_mm - 0.39, hole="R1")
    sure = diagnose(instrument, table, takes_of(true, table, 4), readings=[gauged])
    assert sure.causes[0].probability > 0.9
    assert sure.causes[0].amount.high - sure.causes[0].amount.low < 0.1
    assert sure.contradictions == []


def test_an_instrument_as_drawn_is_not_suspected(chalumeau, takes_of):
    instrument, table = chalumeau
    found = diagnose(instrument, table, takes_of(instrument, table, 6))
    assert found.nothing > max(each.probability for each in found.causes)
    assert max(each.probability for each in found.causes) < 0.35


def test_a_players_offset_stays_inside_the_intervals(chalumeau, takes_of):
    """Nine players of up to 4 cents: own pitch inside its 95 % interval at least eight times."""
    instrument, table = chalumeau
    inside = 0
    for seed, player in enumerate(np.linspace(-4, 4, 9)):
        takes = takes_of(instrument, table, seed, player=player)
        interval = diagnose(instrument, table, takes).player_cents
        inside += interval.low <= player <= interval.high
    assert inside >= 8


def test_takes_that_speak_against_a_reading_say_so(chalumeau, takes_of):
    """A hole as drawn is read 0.6 mm too small; a note is a slip of 40 cents."""
    instrument, table = chalumeau
    drawn = instrument.part("body").hole("L3").diameter_mm
    wrong = reading("diameter", drawn - 0.6, hole="L3")
    takes = takes_of(instrument, table, 7)
    found = diagnose(instrument, table, takes, readings=[wrong])
    assert any("against the reading of L3 diameter" in str(each) for each in found.contradictions)
    name = table.fingerings[5].name
    slip = dict(takes)
    slip[name] = MeasuredNote(takes[name].cents + 40, takes[name].error)
    found = diagnose(instrument, table, slip)
    assert any(str(each).startswith(f"{name} lies") for each in found.contradictions)


def test_readings_of_player_mouthpiece_and_warmth_count(chalumeau, takes_of):
    """A player 4 cents high whom a known instrument showed so; interval by half narrower."""
    instrument, table = chalumeau
    takes = takes_of(instrument, table, 9, player=4.0)
    blind = diagnose(instrument, table, takes).player_cents
    read = [reading("player", 4.3), reading("chamber", instrument.mouthpiece.chamber_mm3)]
    warm = reading("reed_end", instrument.climate.reed_end_c + 0.2)
    found = diagnose(instrument, table, takes, readings=[*read, warm])
    assert found.readings == 3
    assert found.player_cents.low < 4.0 < found.player_cents.high
    width = found.player_cents.high - found.player_cents.low
    assert width < 0.7 * (blind.high - blind.low)
    assert found.contradictions == []
    wrong = diagnose(instrument, table, takes, readings=[reading("player", -16.0)])
    assert any("the player's own pitch" in str(each) for each in wrong.contradictions)
    # What belongs to the instrument and its air goes into the revision.
    built = as_built(instrument, table, [reading("chamber", 2500.0), warm, *read[:1]])
    assert built.instrument.mouthpiece.chamber_mm3 == 2500.0
    assert built.instrument.climate.reed_end_c == warm.value


def test_takes_that_speak_against_a_leak_say_so(chalumeau, takes_of):
    """A leak is read that the instrument which was played does not have."""
    instrument, table = chalumeau
    built = as_built(instrument, table, [reading("leak", 0.6, hole="R1")])
    found = diagnose(
        built.instrument, built.fingerings, takes_of(instrument, table, 8), leaks=built.leaks
    )
    assert any("against these leaks" in str(each) for each in found.contradictions)
    leaky = takes_of(built.instrument, built.fingerings, 8)
    agreed = diagnose(built.instrument, built.fingerings, leaky, leaks=built.leaks)
    assert not any("leaks" in str(each) for each in agreed.contradictions)


def test_too_few_notes_are_refused(chalumeau):
    instrument, table = chalumeau
    with pytest.raises(PlayingError, match="only 1 notes"):
        diagnose(instrument, table, {table.fingerings[0].name: MeasuredNote(0.0, 1.0)})


@pytest.mark.parametrize(
    ("probability", "told"),
    [(0.8, "4 in 5"), (0.52, "1 in 2"), (0.96, "19 in 20"), (0.01, "hardly")],
)
def test_probabilities_are_told_as_people_say_them(probability, told):
    assert str(odds_words(probability)) == told
