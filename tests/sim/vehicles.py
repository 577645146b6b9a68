"""Invented vehicles for the tests of the motion: hypothesis strategies, and seeded ones."""

from dataclasses import fields, replace

import numpy as np
from hypothesis import strategies as st

from sim.frames import spoken_direction
from sim.search.first_contact import earliest, first_contact
from sim.suspension.base import Suspension
from sim.suspension.leaf.motion import Leaf
from sim.suspension.measured.motion import Measured, Reading
from sim.suspension.vertical import Vertical
from sim.vehicle import Slip, TravelRegion, Vehicle

KINDS = ("vertical", "leaf", "measured")

FLIP = np.array([1.0, -1.0, 1.0])
"""Mirror image left to right."""


def ends(output, pinion):
    """Touch bends (rad) of both joints of a one-piece shaft."""
    return {"output": output, "pinion": pinion}


def first_contacts(vehicle, touch, direction="down"):
    """First contact of several joints together, each at its touch bend (rad)."""
    return earliest([first_contact(vehicle, *each, direction) for each in touch.items()])


def number(low, high):
    return st.floats(low, high, allow_nan=False).map(lambda value: round(value, 4))


@st.composite
def vehicles(draw, kind=None, at=None):
    kind = draw(st.sampled_from(KINDS)) if kind is None else kind
    front = draw(st.booleans())
    ahead = 1.0 if front else -1.0
    p_C_output = np.array(
        [-ahead * draw(number(700, 1500)), draw(number(-200, 200)), draw(number(100, 350))]
    )
    p_A_pinion = np.array(
        [-ahead * draw(number(200, 350)), draw(number(-200, 200)), draw(number(-30, 60))]
    )
    suspension = draw(suspensions(kind, front, p_C_output, p_A_pinion))
    return Vehicle(
        p_C_output=p_C_output,
        axis_C_output=-spoken_direction(
            forward=front, down=draw(number(-0.1, 0.15)), left=draw(number(-0.06, 0.06))
        ),
        p_A_pinion=p_A_pinion,
        axis_A_pinion=-spoken_direction(
            forward=not front, down=draw(number(-0.25, 0.1)), left=draw(number(-0.06, 0.06))
        ),
        suspension=suspension,
        travel=TravelRegion(
            bump=draw(number(30, 120)),
            droop=draw(number(60, 220)),
            roll=draw(number(0.02, 0.15)),
            nose_up=draw(number(0.02, 0.2)),
            nose_down=draw(number(0.02, 0.12)),
        ),
        slip=Slip(draw(st.sampled_from(("shaft", "output"))) if at is None else at, 40.0, 80.0),
        front=front,
        phase=draw(number(-1.0, 1.0)),
    )


@st.composite
def suspensions(draw, kind, front, p_C_output=(900.0, 0.0, 230.0), p_A_pinion=(280.0, 0.0, 0.0)):
    centre = draw(st.sampled_from([(0.0, 0.0, 0.0), (0.0, 0.0, 90.0), (-40.0, 10.0, -70.0)]))
    if kind == "vertical":
        return Vertical(front=front, wrap_centre=centre)
    if kind == "leaf":
        end = draw(st.sampled_from((1.0, -1.0)))
        shackled = (-end * draw(number(450, 800)), 500.0, draw(number(0, 100)))
        return Leaf(
            front=front,
            wrap_centre=centre,
            fixed_eye=(end * draw(number(640, 850)), 500.0, draw(number(-30, 100))),
            seat=(draw(number(-30, 30)), 480.0, draw(number(-50, 50))),
            shackled_eye=draw(st.sampled_from((None, shackled))),
        )
    heights = draw(
        st.lists(st.integers(-5, 3), min_size=2, max_size=4, unique=True).filter(
            lambda chosen: 0 not in chosen
        )
    )
    readings = [(0.0, 0.0, 0.0)] + [
        (45.0 * height, draw(number(-15, 15)), draw(number(-0.05, 0.05))) for height in heights
    ]
    return measured(front, p_C_output, p_A_pinion, readings, wrap_centre=centre)


def measured(front, p_C_output, p_A_pinion, moves, **more):
    """Readings of a housing that shifts and noses up by so much at each height, (t, x, nose)."""
    p_C_output, p_A_pinion = np.asarray(p_C_output), np.asarray(p_A_pinion)
    readings = []
    for travel, shift, nose in moves:
        pitch = nose if front else -nose
        c, s = np.cos(pitch), np.sin(pitch)
        x, y, z = p_A_pinion
        p = np.array([c * x + s * z + shift, y, c * z - s * x + travel])
        readings.append(Reading(travel, float(np.linalg.norm(p - p_C_output)), 0.04 + nose))
    return Measured(
        front=front,
        p_C_output=tuple(map(float, p_C_output)),
        p_A_pinion=tuple(map(float, p_A_pinion)),
        readings=tuple(readings),
        **more,
    )


def mirrored(vehicle):
    """The same vehicle seen in a mirror, left to right."""
    suspension: Suspension = vehicle.suspension
    x, y, z = suspension.wrap_centre
    suspension = replace(suspension, wrap_centre=(x, -y, z))
    if isinstance(suspension, Measured):
        a, b, c = suspension.p_C_output
        d, e, f = suspension.p_A_pinion
        suspension = replace(suspension, p_C_output=(a, -b, c), p_A_pinion=(d, -e, f))
    return replace(
        vehicle,
        p_C_output=vehicle.p_C_output * FLIP,
        axis_C_output=vehicle.axis_C_output * FLIP,
        p_A_pinion=vehicle.p_A_pinion * FLIP,
        axis_A_pinion=vehicle.axis_A_pinion * FLIP,
        suspension=suspension,
        phase=-vehicle.phase,
    )


def turned_about(vehicle):
    """The same vehicle seen in a mirror across it, front to rear: a rear axle becomes a front."""
    back = np.array([-1.0, 1.0, 1.0])

    suspension = vehicle.suspension
    stated = {each.name: getattr(suspension, each.name) for each in fields(suspension)}
    changes = {
        name: (-value[0], *value[1:])
        for name, value in stated.items()
        if isinstance(value, tuple) and len(value) == 3 and all(isinstance(v, float) for v in value)
    }
    return replace(
        vehicle,
        p_C_output=vehicle.p_C_output * back,
        axis_C_output=vehicle.axis_C_output * back,
        p_A_pinion=vehicle.p_A_pinion * back,
        axis_A_pinion=vehicle.axis_A_pinion * back,
        suspension=replace(suspension, front=not suspension.front, **changes),
        front=not vehicle.front,
        phase=-vehicle.phase,
    )


@st.composite
def poses(draw, vehicle):
    """One (travel, roll, wrap) within the vehicle's travel box."""
    share = np.array([draw(st.floats(0.0, 1.0)) for _ in range(3)])
    return tuple((vehicle.travel.low + share * (vehicle.travel.high - vehicle.travel.low)).tolist())


def plain(**changes):
    """A flat rear-axle vehicle with round numbers: everything lies in the side view."""
    base = Vehicle(
        p_C_output=np.array([1180.0, 0.0, 230.0]),
        axis_C_output=-spoken_direction(forward=False, down=0.05),
        p_A_pinion=np.array([280.0, 0.0, 0.0]),
        axis_A_pinion=-spoken_direction(forward=True, down=-0.02),
        suspension=Vertical(),
        travel=TravelRegion(bump=100.0, droop=200.0, roll=0.12, nose_up=0.14, nose_down=0.07),
        slip=Slip("shaft", closes=30.0, opens=60.0, comes_apart=100.0),
        front=False,
    )
    return replace(base, **changes)
