from geometry.yoke import SlidingYoke
from tests.geometry.yoke_samples import SLIDING


def test_the_spline_is_shown_but_not_touched() -> None:
    yoke = SlidingYoke(**SLIDING).build()
    assert "spline" in yoke.parts["body"].label_names
    assert "spline" not in yoke.contact.label_names
    assert "sleeve" in yoke.contact.label_names
