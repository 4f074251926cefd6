"""Finding the fault by hand: no dead ends, no blind spots, contradictions said."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mechkit.drive.decisions.rebuild import rebuild
from mechkit.drive.diagnosis import hand_tests
from mechkit.drive.sheet import demo

CAUSES, TESTS = hand_tests.causes(), hand_tests.trials()
few = settings(max_examples=60, deadline=None)


def honest(cause, pick=0):
    """What a cause answers to every test; where it is silent, the one or the other."""
    return {
        key: (says := CAUSES[cause].says.get(key, test.answers))[pick % len(says)]
        for key, test in TESTS.items()
    }


def test_the_data_speaks_of_tests_and_answers_that_exist():
    for cause in CAUSES.values():
        for test, answers in cause.says.items():
            assert set(answers) <= set(TESTS[test].answers), (cause.key, test)
    for test in TESTS.values():
        assert len(test.answers) > 1 and (not test.after or test.after in TESTS)
        said = {answer for cause in CAUSES.values() for answer in cause.says.get(test.key, ())}
        assert len(said) > 1, f"{test.key} tells nothing apart"


@pytest.mark.parametrize("cause", CAUSES)
@pytest.mark.parametrize("pick", [0, 1])
def test_honest_answers_never_rule_the_true_cause_out(cause, pick):
    answers = {}
    while (test := hand_tests.next_trial(answers)) is not None:
        answers[test.key] = honest(cause, pick)[test.key]
        assert CAUSES[cause] in hand_tests.left(answers)
    assert len(answers) <= 6


@pytest.mark.parametrize(("one", "other"), list(itertools.combinations(CAUSES, 2)))
def test_some_test_tells_any_two_causes_apart(one, other):
    assert any(
        not set(CAUSES[one].says[test]) & set(CAUSES[other].says[test])
        for test in CAUSES[one].says.keys() & CAUSES[other].says.keys()
    )


@few
@given(st.data())
def test_an_answer_never_brings_a_cause_back(data):
    keys = data.draw(st.permutations(list(TESTS)))
    answers, before = {}, set(CAUSES)
    for key in keys:
        answers[key] = data.draw(st.sampled_from(TESTS[key].answers))
        now = {cause.key for cause in hand_tests.left(answers)}
        assert now <= before
        before = now


@few
@given(st.sampled_from(list(CAUSES)), st.sampled_from(list(TESTS)))
def test_one_wrong_answer_is_among_the_doubtful(cause, test):
    answers = honest(cause)
    wrong = [it for it in TESTS[test].answers if it not in CAUSES[cause].says.get(test, it)]
    for answer in wrong:
        spoiled = answers | {test: answer}
        if not hand_tests.left(spoiled):
            assert test in hand_tests.doubtful(spoiled)
    assert hand_tests.doubtful(answers) == []


def test_the_tests_that_everybody_knows_lead_where_everybody_knows():
    """Common practice: rods bind twice a turn, a gear hops once, the tooth tells gear from axle."""

    def sole(**answers):
        (cause,) = hand_tests.left(answers)
        return cause.key

    assert sole(repeats="twice a wheel turn", rods="gone") == "rods"
    assert sole(repeats="idler turn") == "idler"
    once = {"repeats": "once a wheel turn", "cover": "stays"}
    assert sole(**once, marked_tooth="at the marked tooth") == "axle_gear"
    assert sole(**once, marked_tooth="at the same place of the wheel") == "axle"
    assert (
        sole(repeats="no rhythm", cover="gone", motor_screws="stays", direction="the same")
        == "mesh"
    )
    assert sole(motor_alone="rough", direction="the same") == "motor"


def test_what_is_cheap_and_settles_much_comes_first():
    assert hand_tests.next_trial({}).key == "repeats"
    for cause in CAUSES:
        way = hand_tests.course(cause)
        assert way[0][0].key == "repeats"
        if len(hand_tests.left({way[0][0].key: way[0][1]})) > 1:
            assert len(way) > 1


@pytest.mark.parametrize(
    ("answers", "words"),
    [({"smell": "burnt"}, "no such test"), ({"rods": "perhaps"}, "one of gone, stays")],
)
def test_refusals_say_what_there_is(answers, words):
    with pytest.raises(ValueError, match=words):
        hand_tests.left(answers)


def test_the_demo_points_at_causes_before_a_hand_is_moved():
    job = rebuild(demo().data)
    broken = [one.key for one in (*job.faults, *job.decisions) if one.verdict == "wrong"]
    assert {"axle_gear", "end_play", "contact"} <= {c.key for c in hand_tests.suspects(broken)}
    known = {one.key for one in (*job.faults, *job.decisions)}
    assert {fault for cause in CAUSES.values() for fault in cause.faults} <= known
