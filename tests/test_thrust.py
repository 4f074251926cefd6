"""The worm's thrust on the page, by plain statics."""

from math import atan, cos, radians, sin

import pytest

from mechkit.drive import sheet
from mechkit.drive.decisions.rebuild import rebuild


@pytest.fixture(scope="module")
def job():
    return rebuild(sheet.demo().data)


def test_thrust_is_the_force_at_the_gears_pitch_circle(job):
    """What slips the wheels, from the tread to the pitch circle, through one straight mesh."""
    drive, said = job.known.planned, job.decision("thrust").numbers
    at_rim = 0.20 * 0.328 * 9.80665 + 0.018 * 0.528 * 9.80665
    by_hand = at_rim * 16.2 / 12.0 / (0.93 * 0.98) ** 0.5
    assert said["along"].value == pytest.approx(by_hand, rel=0.03)
    # Shigley: W (cos a cos l - f sin l) along the worm, W sin a apart
    friction = job.known.train_planned.friction(drive.at_crawl, (0.93 * 0.98) ** 0.5)[0]
    lead = atan(0.4 / 6.0)
    share = sin(radians(20)) / (cos(radians(20)) * cos(lead) - friction * sin(lead))
    assert said["apart"].value / said["along"].value == pytest.approx(share, rel=1e-3)


def test_a_plain_face_costs_what_a_collar_costs(job):
    """Friction 0.10 halfway between a bore of 3.175 and a root of 5.04 mm, over lead / 2 pi."""
    ball = job.decision("thrust")
    plain = rebuild(sheet.demo().with_value("planned.worm.thrust_bearing", "plain").data)
    one = plain.decision("thrust")
    assert ball.verdict == "good"
    assert one.verdict == "wrong"
    assert one.numbers["ball"].value < 0.02
    collar = 0.10 * (3.175 + 5.04) / 4 / 0.2
    assert plain.known.train_planned.collar[0] == pytest.approx(collar, rel=1e-3)
    drive = plain.known.planned
    whole = (0.93 * 0.98) ** 0.5 / drive.at_crawl[0]
    assert one.value.value == pytest.approx(collar / whole, rel=1e-3)


def test_it_turns_round_where_the_train_drives(job):
    """Down 2 % the pull of 0.02 W beats a rolling of 0.018 W; down 1 % it does not."""
    assert "it always does" in job.decision("thrust").finding
    flat = rebuild(sheet.demo().with_value("track.grade", "1 %").data).decision("thrust")
    assert "does not push" in flat.finding


def test_the_lurch_is_the_end_play_at_the_rim(job):
    jump = job.decision("thrust").numbers["jump"].value
    assert jump == pytest.approx(0.003 * 25.4e-3 * 16.2 / 12.0, rel=1e-3)


def test_the_thrust_turns_at_the_cut_where_the_motor_would_stop_first(job):
    """The flywheel's 10 kg beside 0.53 of train roll on longest; without it the train pushes."""
    bare = job.known.before
    rail = 30 * 0.44704 / 64
    slows = (bare.inner_friction[0] + bare.damping[0] * bare.motor_speed(rail)[0]) * bare.lever[0]
    alone = slows / bare.turning_inertia[0]
    assert bare.pushed(rail)[0] == (alone > 0.018 * 9.80665)
    assert bare.pushed(rail)[0]
    assert not job.known.after.pushed(rail)[0]
