"""Relief: how much bend is gained by grinding away what touches, and what is left of the metal."""

from geometry.relief.parts import HARD, Grindable, grindable
from geometry.relief.plan import relief
from geometry.relief.result import Cut, Plan, Relief, Stop

__all__ = ["HARD", "Cut", "Grindable", "Plan", "Relief", "Stop", "grindable", "relief"]
