"""A level shaft in a plane with both bends as asked: the rig that tests of shaking start from."""

from sim.rig import Rig, changed, load_demo


def flat(first: float, last: float, wrap: float = 0.0, **values: object) -> Rig:
    """A rear shaft, its joints bent so (deg), Z-shaped where both are positive.

    Axle ratio 4, tires of 400 mm, no gears; wrap (deg) either way.
    """
    return changed(
        load_demo("quarry-hauler"),
        {
            "output.joint": ["62 1/2 in", "0 in", "1/4 in"],
            "output.points_down": f"{first:g} deg",
            "axle.points_up": f"{last:g} deg",
            "wrap": None,
            "travel.nose_up": f"{wrap:g} deg",
            "travel.nose_down": f"{wrap:g} deg",
            "surroundings": [],
            "drive": {"axle_ratio": 4.0, "tyre_radius": "400 mm", "use": "road"},
            **{key.replace("__", "."): value for key, value in values.items()},
        },
    )
