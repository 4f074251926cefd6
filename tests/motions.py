"""Engines for the tests of the drive in time; all numbers are invented."""

from dataclasses import replace

from mechkit.drive.model.drive import Drive
from mechkit.drive.model.parts import Motor
from mechkit.drive.motion.detail import Detail, Shaft, WormMesh

#: Iron core, no flywheel, in 1:64.
BEFORE = Drive(
    motor=Motor(resistance=13.0, torque_constant=7e-3, friction_torque=0.5e-3, rotor_inertia=1.5e-7),
    gear_ratio=30.0, wheel_diameter=16e-3, flywheel_inertia=0.0, starting_friction=1.45e-3,
    running_friction=1.4e-3, damping=0.175e-6, efficiency=0.33, engine_mass=0.4, train_mass=0.4,
    mass_on_drivers=0.32, adhesion=0.2, scale=64.0,
)  # fmt: skip
#: Ironless, with a flywheel.
AFTER = Drive(
    motor=Motor(resistance=22.0, torque_constant=14e-3, friction_torque=0.2e-3, rotor_inertia=0.8e-7),
    gear_ratio=30.0, wheel_diameter=16e-3, flywheel_inertia=6.5e-7, starting_friction=0.38e-3,
    running_friction=0.35e-3, damping=0.175e-6, efficiency=0.42, engine_mass=0.4, train_mass=0.4,
    mass_on_drivers=0.32, adhesion=0.2, scale=64.0,
)  # fmt: skip
#: The same as it warms, with brushes that keep some of the voltage.
WARMING = replace(AFTER, motor=replace(AFTER.motor, heating=30.0, magnet=0.6e-3, brush_drop=0.3))
#: A mesh without loss either way, so that the handbook's one-shaft formulas hold.
LOSSLESS = replace(AFTER, efficiency=1.0)
#: Both with a train that rolls hard by itself, and with lost motion.
SLACK_BEFORE = replace(BEFORE, rolling_force=0.08, lost_motion=0.15e-3)
SLACK_AFTER = replace(AFTER, rolling_force=0.08, lost_motion=0.08e-3)

MESH = WormMesh(lead_angle=0.0666, pressure_angle=0.349066, pitch_diameter=6e-3, rest=0.95)
SHAFTS = (
    Shaft("idler", 1 / 14, 14, eccentricity=10e-6, base_diameter=5.26e-3, friction_swing=0.02, phase=1.0),
    Shaft("axle gear", 1 / 30, 30, eccentricity=60e-6, base_diameter=11.3e-3, friction_swing=0.15),
)  # fmt: skip
#: Everything switched on.
ROUGH = Detail(cogging=0.3e-3, slots=10, mesh=MESH, shafts=SHAFTS)
SMOOTH = replace(ROUGH, cogging=0.0)
