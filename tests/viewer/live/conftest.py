"""Sessions with their answer, as for the tests of the session itself."""

from tests.viewer.session.conftest import open_rig, worker

__all__ = ["open_rig", "worker"]
